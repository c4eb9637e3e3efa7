import { type DayAxis, sharedAxis } from '#app/_ui/chart-scale.ts'
import { LotCode } from '#app/_ui/code.tsx'
import { dayMonth } from '#app/_ui/dates.ts'
import { MiniAxis, MiniWindow } from '#app/_ui/mini-window.tsx'
import { VarietyName } from '#app/_ui/name.tsx'
import { cropWord } from '#app/g/[group]/wood/_parts/crop-word.ts'
import { RowState } from '#app/g/[group]/wood/_parts/row-state.tsx'
import { sayLimit } from '#app/g/[group]/wood/_parts/say-window.ts'
import { lotHref } from '#app/g/[group]/wood/_parts/wood-links.ts'
import type { CivilDate } from '#lib/kernel/civil-date.ts'
import { inspectionFlagWords } from '#lib/wood/inspection-words.ts'
import type { WoodRow } from '#lib/wood/view.ts'

export interface WoodRowsProps {
  readonly slug: string
  readonly rows: readonly WoodRow[]
  readonly today: CivilDate
  readonly swapDay: CivilDate | null
  /** Says what the table holds, for those who hear it. */
  readonly caption: string
  /** The rows are in the order of their likely limits. */
  readonly isByLimit: boolean
}

const axisOf = (rows: readonly WoodRow[], today: CivilDate, swapDay: CivilDate | null): DayAxis =>
  sharedAxis(
    rows.flatMap(({ window, cutOn }) =>
      window.kind === 'window' ? [{ cut: cutOn, late: window.late }] : [],
    ),
    today,
    swapDay,
  )

/** Lots with their windows on one axis: a table on a desk, a ruled list on a phone. */
export function WoodLots(props: WoodRowsProps) {
  const axis = axisOf(props.rows, props.today, props.swapDay)
  return (
    <>
      <div className="wide-only">
        <WoodTable {...props} axis={axis} />
      </div>
      <div className="phone-only">
        <WoodRuledList {...props} axis={axis} />
      </div>
    </>
  )
}

type WithAxis = WoodRowsProps & { readonly axis: DayAxis }

function WoodTable({ slug, rows, today, swapDay, caption, isByLimit, axis }: WithAxis) {
  return (
    <table className="tbl mid dense">
      <caption className="vh">{caption}</caption>
      <thead>
        <tr>
          <th scope="col">Variety</th>
          <th scope="col">Lot</th>
          <th scope="col">Cut</th>
          <th scope="col">Kept in</th>
          <th scope="col" style={{ width: '26%' }}>
            <span className="vh">How long it keeps</span>
            <MiniAxis axis={axis} today={today} swap={swapDay} />
          </th>
          <th scope="col" className={isByLimit ? 'sorted' : undefined}>
            Likely limit
          </th>
          <th scope="col">Now</th>
          <th scope="col" className="r">
            Free of cut
          </th>
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => (
          <tr key={row.lotId} className={row.isHeld ? 'is-held' : undefined}>
            <th scope="row" className="whitespace-normal!">
              <VarietyName name={row.varietyName} /> <span className="soft">{cropWord(row.commonName)}</span>
            </th>
            <td>
              <LotCode code={row.code} href={lotHref(slug, row.code)} />
            </td>
            <td>{dayMonth(row.cutOn)}</td>
            <td className="soft">{row.storeName ?? 'not said'}</td>
            <td className="plot">
              {row.window.kind === 'window' && (
                <MiniWindow axis={axis} today={today} swap={swapDay} cut={row.cutOn} window={row.window} />
              )}
            </td>
            <td>
              {row.window.kind === 'window' &&
                sayLimit(row.window.likely, row.window, { cut: row.cutOn, today }, 'short')}
            </td>
            <td className="whitespace-normal!">
              <RowState row={row} />
              <RowFlags flags={row.flags} />
            </td>
            <td className="r">
              <b>{row.sums.free}</b> <span className="soft">of {row.sums.cut}</span>
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}

/** What the latest look found wrong, in a few words. */
function RowFlags({ flags }: Pick<WoodRow, 'flags'>) {
  if (flags.length === 0) return null
  return <span className="note block">Seen: {inspectionFlagWords(flags)}</span>
}

function WoodRuledList({ slug, rows, today, swapDay, axis }: WithAxis) {
  return (
    <>
      <MiniAxis axis={axis} today={today} swap={swapDay} />
      <ul className="rows">
        {rows.map((row) => (
          <li key={row.lotId} className="stack-s">
            <p className="flex items-baseline justify-between gap-3">
              <a href={lotHref(slug, row.code)} className="tap">
                <VarietyName name={row.varietyName} />
              </a>
              <span className="nb tnum">
                <b>{row.sums.free}</b> <span className="soft">of {row.sums.cut} free</span>
              </span>
            </p>
            {row.window.kind === 'window' && (
              <MiniWindow
                axis={axis}
                today={today}
                swap={swapDay}
                cut={row.cutOn}
                window={row.window}
                height={24}
              />
            )}
            <p className="note flex items-baseline justify-between gap-2">
              <span>
                <LotCode code={row.code} /> · cut {dayMonth(row.cutOn)}
              </span>
              <RowState row={row} />
            </p>
            <RowFlags flags={row.flags} />
          </li>
        ))}
      </ul>
    </>
  )
}
