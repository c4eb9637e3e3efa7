import { intoSheets, type LabelStock, paperMm, placeOnSheet } from '#lib/formats/labels/stock.ts'
import { type BagToPrint, drawBagLabel } from '#lib/formats/pdf/bag-label.ts'
import { bytesOf, newPdf, type Pdf, pt } from '#lib/formats/pdf/paper.ts'
import { drawStickFlag, type FlagToPrint } from '#lib/formats/pdf/stick-flag.ts'

/** Labels of one kind and the sheet they are printed on. */
export interface LabelSheets {
  readonly title: string
  readonly stock: LabelStock
  /** The first free place of a part-used sheet, from 1. */
  readonly start: number
  /** Draws the edges of the labels, for a try on plain paper. */
  readonly outlines: boolean
}

function drawSheets<Label>(
  pdf: Pdf,
  { stock, start, outlines }: LabelSheets,
  labels: readonly Label[],
  draw: (label: Label, at: { readonly x: number; readonly y: number }) => void,
): void {
  for (const sheet of intoSheets(labels, stock, start)) {
    pdf.addPage({ size: [pt(paperMm[stock.paper].width), pt(paperMm[stock.paper].height)], margin: 0 })
    for (const [place, label] of sheet.entries()) {
      const at = placeOnSheet(stock, place)
      if (label !== null) draw(label, at)
      if (!outlines) continue
      pdf.rect(pt(at.x), pt(at.y), pt(stock.widthMm), pt(stock.heightMm)).lineWidth(0.3).stroke('#000')
    }
  }
}

/** Labels of bags as a PDF; black only, fonts embedded. */
export function bagLabelsPdf(
  sheets: LabelSheets,
  labels: readonly BagToPrint[],
): Promise<Uint8Array<ArrayBuffer>> {
  const pdf = newPdf(sheets.title, sheets.stock.paper)
  drawSheets(pdf, sheets, labels, (label, at) => drawBagLabel(pdf, label, sheets.stock, at))
  return bytesOf(pdf)
}

/** Flags for sticks as a PDF; black only, fonts embedded. */
export function stickFlagsPdf(
  sheets: LabelSheets,
  flags: readonly FlagToPrint[],
): Promise<Uint8Array<ArrayBuffer>> {
  const pdf = newPdf(sheets.title, sheets.stock.paper)
  drawSheets(pdf, sheets, flags, (flag, at) => drawStickFlag(pdf, flag, sheets.stock, at))
  return bytesOf(pdf)
}
