import type { ReactNode } from 'react'
import { StickGlyph, type StickKind } from '#app/_ui/tally.tsx'

interface SumTableProps {
  readonly rows: readonly {
    readonly label: ReactNode
    readonly count: number
    readonly glyph?: StickKind
  }[]
  /** What the rows must come to, counted on its own and not by adding them here. */
  readonly total: { readonly label: ReactNode; readonly count: number }
}

/** Parts and their total. The double rule stands only where they do add up. */
export function SumTable({ rows, total }: SumTableProps) {
  const sum = rows.reduce((soFar, row) => soFar + row.count, 0)
  return (
    <>
      <dl className="sum">
        {rows.map((row, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: the rows are a fixed list without ids
          <SumRow key={i} row={row} />
        ))}
        <dt className={sum === total.count ? 't' : 't open'}>{total.label}</dt>
        <dd className={sum === total.count ? 't' : 't open'}>{total.count}</dd>
      </dl>
      {sum !== total.count && (
        <p className="err">
          The parts come to {sum}, not {total.count}. Please tell whoever looks after this site.
        </p>
      )}
    </>
  )
}

function SumRow({ row }: { readonly row: SumTableProps['rows'][number] }) {
  return (
    <>
      <dt>
        {row.glyph && <StickGlyph kind={row.glyph} />}
        {row.label}
      </dt>
      <dd>{row.count}</dd>
    </>
  )
}
