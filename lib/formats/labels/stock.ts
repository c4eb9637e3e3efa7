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

/** Millimetres of the papers. Sources: ISO 216 for A4; ANSI/ASME Y14.1 for Letter, 8½ × 11 in. */
export const paperMm = {
  A4: { width: 210, height: 297 },
  letter: { width: 215.9, height: 279.4 },
} as const

const bag = { columns: 2, rows: 4, widthMm: 99.1, heightMm: 67.7, gapXMm: 2.5, gapYMm: 0 }
const flag = { columns: 5, widthMm: 38.1, heightMm: 21.2, gapXMm: 2.5, gapYMm: 0 }

/** 8 to the sheet, 99.1 × 67.7 mm. */
export const a4Bags: LabelStock = { paper: 'A4', ...bag, topMm: 13.1, leftMm: 4.65 }

/** 65 to the sheet, 38.1 × 21.2 mm. */
export const a4Flags: LabelStock = { paper: 'A4', ...flag, rows: 13, topMm: 10.7, leftMm: 4.75 }

/** The same labels on Letter paper, to be cut by hand: no die-cut sheet of this size is common there. */
export const letterBags: LabelStock = { paper: 'letter', ...bag, topMm: 4.3, leftMm: 7.6 }
export const letterFlags: LabelStock = { paper: 'letter', ...flag, rows: 12, topMm: 12.5, leftMm: 7.7 }

/** A size that labels are sold in. */
export interface SoldStock {
  readonly key: string
  /** How it is asked for in a shop, by size and number. */
  readonly label: string
  /** What it is big enough for. */
  readonly takes: 'bags' | 'flags'
  readonly stock: LabelStock
}

const inch = 25.4

/** Letter sheets are described in inches; what is left over is shared between both sides. */
function letterSheet(sheet: {
  readonly columns: number
  readonly rows: number
  readonly width: number
  readonly height: number
  readonly gapX: number
}): LabelStock {
  const { columns, rows, width, height, gapX } = sheet
  return {
    paper: 'letter',
    columns,
    rows,
    widthMm: width * inch,
    heightMm: height * inch,
    gapXMm: gapX * inch,
    gapYMm: 0,
    topMm: ((11 - rows * height) / 2) * inch,
    leftMm: ((8.5 - columns * width - (columns - 1) * gapX) / 2) * inch,
  }
}

function a4Sheet(
  columns: number,
  rows: number,
  widthMm: number,
  heightMm: number,
  gapXMm: number,
): LabelStock {
  return {
    paper: 'A4',
    columns,
    rows,
    widthMm,
    heightMm,
    gapXMm,
    gapYMm: 0,
    topMm: (paperMm.A4.height - rows * heightMm) / 2,
    leftMm: (paperMm.A4.width - columns * widthMm - (columns - 1) * gapXMm) / 2,
  }
}

/**
 * The usual sheets by size. Size and number per sheet are common practice, no source; gaps between labels are from
 * memory. Every printer pulls paper a little differently: margins and gaps can be set.
 */
export const soldStocks: readonly SoldStock[] = [
  { key: 'a4-8', label: 'A4, 8 of 99.1 × 67.7 mm', takes: 'bags', stock: a4Bags },
  { key: 'a4-14', label: 'A4, 14 of 99.1 × 38.1 mm', takes: 'bags', stock: a4Sheet(2, 7, 99.1, 38.1, 2.5) },
  { key: 'a4-21', label: 'A4, 21 of 63.5 × 38.1 mm', takes: 'bags', stock: a4Sheet(3, 7, 63.5, 38.1, 2.5) },
  { key: 'a4-24', label: 'A4, 24 of 63.5 × 33.9 mm', takes: 'bags', stock: a4Sheet(3, 8, 63.5, 33.9, 2.5) },
  { key: 'a4-24-wide', label: 'A4, 24 of 70 × 37 mm', takes: 'bags', stock: a4Sheet(3, 8, 70, 37, 0) },
  {
    key: 'letter-6',
    label: 'Letter, 6 of 3⅓ × 4 in',
    takes: 'bags',
    stock: letterSheet({ columns: 2, rows: 3, width: 4, height: 10 / 3, gapX: 3 / 16 }),
  },
  {
    key: 'letter-10',
    label: 'Letter, 10 of 2 × 4 in',
    takes: 'bags',
    stock: letterSheet({ columns: 2, rows: 5, width: 4, height: 2, gapX: 3 / 16 }),
  },
  {
    key: 'letter-14',
    label: 'Letter, 14 of 1⅓ × 4 in',
    takes: 'bags',
    stock: letterSheet({ columns: 2, rows: 7, width: 4, height: 4 / 3, gapX: 3 / 16 }),
  },
  {
    key: 'letter-20',
    label: 'Letter, 20 of 1 × 4 in',
    takes: 'bags',
    stock: letterSheet({ columns: 2, rows: 10, width: 4, height: 1, gapX: 3 / 16 }),
  },
  {
    key: 'letter-30',
    label: 'Letter, 30 of 1 × 2⅝ in',
    takes: 'bags',
    stock: letterSheet({ columns: 3, rows: 10, width: 21 / 8, height: 1, gapX: 1 / 8 }),
  },
  { key: 'a4-65', label: 'A4, 65 of 38.1 × 21.2 mm', takes: 'flags', stock: a4Flags },
  {
    key: 'letter-80',
    label: 'Letter, 80 of ½ × 1¾ in',
    takes: 'flags',
    stock: letterSheet({ columns: 4, rows: 20, width: 7 / 4, height: 1 / 2, gapX: 5 / 16 }),
  },
  {
    key: 'letter-60',
    label: 'Letter, plain, 60 of 38.1 × 21.2 mm to cut',
    takes: 'flags',
    stock: letterFlags,
  },
]

/** How many labels a sheet holds. */
export const perSheet = (stock: LabelStock): number => stock.columns * stock.rows

/** Where a place of the sheet begins, in millimetres from the upper left corner of the paper; places count from 0. */
export function placeOnSheet(stock: LabelStock, place: number): { readonly x: number; readonly y: number } {
  return {
    x: stock.leftMm + (place % stock.columns) * (stock.widthMm + stock.gapXMm),
    y: stock.topMm + Math.floor(place / stock.columns) * (stock.heightMm + stock.gapYMm),
  }
}

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
