/** A sheet of labels. Millimetres, so that a printer's offset can be put right in `topMm` and `leftMm`. */
export interface LabelStock {
  readonly paper: 'A4' | 'letter'
  readonly columns: number
  readonly rows: number
  readonly widthMm: number
  readonly heightMm: number
  readonly gapXMm: number
  readonly gapYMm: number
  readonly topMm: number
  readonly leftMm: number
}

const bag = { columns: 2, rows: 4, widthMm: 99.1, heightMm: 67.7, gapXMm: 2.5, gapYMm: 0 }
const flag = { columns: 5, widthMm: 38.1, heightMm: 21.2, gapXMm: 2.5, gapYMm: 0 }

/** 8 to the sheet, 99.1 × 67.7 mm. */
export const a4Bags: LabelStock = { paper: 'A4', ...bag, topMm: 13.1, leftMm: 4.65 }

/** 65 to the sheet, 38.1 × 21.2 mm. */
export const a4Flags: LabelStock = { paper: 'A4', ...flag, rows: 13, topMm: 10.7, leftMm: 4.75 }

/** The same labels on Letter paper, to be cut by hand: no die-cut sheet of this size is common there. */
export const letterBags: LabelStock = { paper: 'letter', ...bag, topMm: 4.3, leftMm: 7.6 }
export const letterFlags: LabelStock = { paper: 'letter', ...flag, rows: 12, topMm: 12.5, leftMm: 7.7 }

/** How many labels a sheet holds. */
export const perSheet = (stock: LabelStock): number => stock.columns * stock.rows

/**
 * The labels in sheets, the first one starting at position `start` (from 1) of a part-used sheet; null is a place
 * that stays empty. A start that is not on the sheet counts as 1.
 */
export function intoSheets<Label>(
  labels: readonly Label[],
  stock: LabelStock,
  start = 1,
): (Label | null)[][] {
  const size = perSheet(stock)
  const skipped = Number.isInteger(start) && start >= 1 && start <= size ? start - 1 : 0
  const places = [...Array.from({ length: skipped }, () => null), ...labels]
  return Array.from({ length: Math.ceil(places.length / size) }, (_, i) =>
    places.slice(i * size, (i + 1) * size),
  )
}
