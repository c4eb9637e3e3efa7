import { type LabelStock, paperMm, perSheet, soldStocks } from '#lib/formats/labels/stock.ts'
import type { LabelWish } from '#lib/swaps/lots-to-label.ts'

/** What is printed as a PDF, for which lots, on what, and from which place of the first sheet. */
export interface PdfSettings {
  readonly takes: 'bags' | 'flags'
  readonly stock: LabelStock
  readonly start: number
  readonly outlines: boolean
}

/** Millimetres as somebody types them; null when the field is left empty or makes no sense. */
function millimetres(text: string | null, most: number): number | null {
  if (text === null || text.trim() === '') return null
  const value = Number(text.trim().replace(',', '.'))
  return Number.isFinite(value) && value >= 0 && value <= most ? value : null
}

/** Reads the settings out of an address; what makes no sense becomes what is usual for the sheet. */
export function pdfSettings(query: URLSearchParams): PdfSettings {
  const sold = soldStocks.find(({ key }) => key === query.get('sheet')) ?? soldStocks[0]
  if (!sold) throw new Error('There is no sheet to print labels on')
  const usual = sold.stock
  const paper = paperMm[usual.paper]
  const across = millimetres(query.get('across'), paper.width)
  const down = millimetres(query.get('down'), paper.height)
  const stock: LabelStock = {
    ...usual,
    topMm: millimetres(query.get('top'), 60) ?? usual.topMm,
    leftMm: millimetres(query.get('left'), 60) ?? usual.leftMm,
    gapXMm: across !== null && across >= usual.widthMm ? across - usual.widthMm : usual.gapXMm,
    gapYMm: down !== null && down >= usual.heightMm ? down - usual.heightMm : usual.gapYMm,
  }
  const start = Number(query.get('start'))
  return {
    takes: sold.takes,
    stock,
    start: Number.isInteger(start) && start >= 1 && start <= perSheet(stock) ? start : 1,
    outlines: query.get('outlines') === 'yes',
  }
}

/** Which lots an address asks labels for; null when it says none. */
export function labelWish(query: URLSearchParams): LabelWish | null {
  const [lot, session, swap] = [query.get('lot'), query.get('session'), query.get('swap')]
  if (lot) return { lot }
  if (session) return { session }
  return swap ? { swap } : null
}
