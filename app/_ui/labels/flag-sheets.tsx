import { LabelSheets } from '#app/_ui/labels/label-sheets.tsx'
import { type FlagData, StickFlag } from '#app/_ui/labels/stick-flag.tsx'
import { a4Flags, type LabelStock } from '#lib/formats/labels/stock.ts'

interface FlagSheetsProps {
  readonly labels: readonly FlagData[]
  /** The first free place of a part-used sheet, from 1. */
  readonly start?: number
  readonly stock?: LabelStock
}

/** Stick flags on sheets. Make it a direct child of the page, so that it prints alone. */
export function FlagSheets({ labels, start = 1, stock = a4Flags }: FlagSheetsProps) {
  return (
    <LabelSheets labels={labels} stock={stock} start={start} name="Stick flags, as they will print">
      {(flag) => <StickFlag flag={flag} />}
    </LabelSheets>
  )
}
