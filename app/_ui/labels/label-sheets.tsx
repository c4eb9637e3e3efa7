import type { CSSProperties, ReactNode } from 'react'
import { intoSheets, type LabelStock } from '#lib/formats/labels/stock.ts'
import '../labels.css'

interface LabelSheetsProps<Label> {
  readonly labels: readonly Label[]
  readonly stock: LabelStock
  readonly start: number
  readonly name: string
  readonly children: (label: Label) => ReactNode
}

const millimetres = (value: number) => `${value}mm`

function sheetStyle(stock: LabelStock): CSSProperties {
  return {
    gridTemplateColumns: `repeat(${stock.columns}, ${millimetres(stock.widthMm)})`,
    gridAutoRows: millimetres(stock.heightMm),
    columnGap: millimetres(stock.gapXMm),
    rowGap: millimetres(stock.gapYMm),
    paddingTop: millimetres(stock.topMm),
    paddingLeft: millimetres(stock.leftMm),
  }
}

/** Labels in their places on sheets of paper. In print nothing else of the page comes out. */
export function LabelSheets<Label>({ labels, stock, start, name, children }: LabelSheetsProps<Label>) {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a sheet is wider than a phone, and scrolls by keyboard too
    <section className="sheets" aria-label={name} tabIndex={0}>
      {intoSheets(labels, stock, start).map((places, sheet) => (
        <div
          // biome-ignore lint/suspicious/noArrayIndexKey: a sheet is its number
          key={sheet}
          className={stock.paper === 'A4' ? 'sheet a4' : 'sheet letter'}
          style={sheetStyle(stock)}
        >
          {places.map((label, place) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: a label is its place on the sheet
            <div key={place} className="place">
              {label !== null && children(label)}
            </div>
          ))}
        </div>
      ))}
    </section>
  )
}
