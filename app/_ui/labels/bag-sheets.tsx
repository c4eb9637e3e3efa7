import { BagLabel, type BagLabelData } from '#app/_ui/labels/bag-label.tsx'
import { LabelSheets } from '#app/_ui/labels/label-sheets.tsx'
import { a4Bags, type LabelStock } from '#lib/formats/labels/stock.ts'

interface BagSheetsProps {
  readonly labels: readonly BagLabelData[]
  /** The first free place of a part-used sheet, from 1. */
  readonly start?: number
  readonly stock?: LabelStock
}

/** Bag labels on sheets. Make it a direct child of the page, so that it prints alone. */
export function BagSheets({ labels, start = 1, stock = a4Bags }: BagSheetsProps) {
  return (
    <LabelSheets labels={labels} stock={stock} start={start} name="Bag labels, as they will print">
      {(label) => <BagLabel label={label} />}
    </LabelSheets>
  )
}
