import { qrModules } from '#lib/formats/labels/qr-modules.ts'
import type { LabelStock } from '#lib/formats/labels/stock.ts'
import { blackField, drawQr, drawSlantUp, slantUpWidth } from '#lib/formats/pdf/marks.ts'
import type { Pdf } from '#lib/formats/pdf/paper.ts'
import { clipped, leading, line, widthOf, wrapped } from '#lib/formats/pdf/text.ts'

/** What the flag on a stick says, in words already. */
export interface FlagToPrint {
  /** ABC-DEF. */
  readonly code: string
  /** In its quotes. */
  readonly name: string
  readonly crop: string
  /** "11 Jan 27". */
  readonly cut: string
  /** "use by early Jun, look first". */
  readonly useBy: string
  readonly isHeld: boolean
}

const small = 8

/** One flag in its place on the sheet. The bare code as a QR code of version 1, 0.4 mm to the module. */
export function drawStickFlag(
  pdf: Pdf,
  flag: FlagToPrint,
  stock: LabelStock,
  at: { readonly x: number; readonly y: number },
): void {
  const isTall = stock.heightMm >= 18
  const modules = qrModules(flag.code)
  const module = 0.4
  const qr = module * modules.length
  const quiet = module * 4
  const qrTop = isTall ? at.y + quiet : at.y + (stock.heightMm - qr) / 2
  drawQr(pdf, modules, at.x + quiet, qrTop, qr)
  const left = at.x + qr + 2 * quiet - 0.2
  const stick = isTall ? 7 : 6
  const right = at.x + stock.widthMm - 1
  const width = right - left
  const bottomLine = isTall ? leading(small) : 0
  const codeHeight = leading(11) * 0.9
  const room = stock.heightMm - 1.4 - codeHeight - leading(small) - bottomLine
  const most = Math.max(1, Math.floor(room / (leading(small) * 0.92)))
  const nameWidth = width - slantUpWidth(stick) - 0.4
  drawSlantUp(pdf, right - slantUpWidth(stick) + 0.4, at.y + 0.9, stick)
  let y = at.y + 0.7 + leading(small) * 0.82
  for (const text of clipped(pdf, 'name', small, flag.name, nameWidth, most)) {
    line(pdf, 'name', small, text, left, y)
    y += leading(small) * 0.92
  }
  y += codeHeight - leading(small) * 0.82
  line(pdf, 'code', 11, flag.code, left, y)
  y += leading(small) * 0.96
  if (flag.isHeld) drawHeld(pdf, left, y, width)
  else line(pdf, 'text', small, `cut ${flag.cut}`, left, y)
  if (isTall && !flag.isHeld)
    drawUnder(pdf, flag, at.x + quiet, at.y + stock.heightMm - 1.2, stock.widthMm - quiet - 1)
}

function drawHeld(pdf: Pdf, left: number, baseline: number, width: number): void {
  blackField(pdf, left, baseline - 2.6, width, 3.4)
  line(pdf, 'code', 9, 'HOLD', left + 1, baseline, { white: true })
}

/** Crop and use-by under the code, as much as one line holds; the use-by goes first. */
function drawUnder(pdf: Pdf, flag: FlagToPrint, left: number, baseline: number, width: number): void {
  const both = `${flag.crop} · ${flag.useBy}`
  const words = widthOf(pdf, 'text', small, both) <= width ? both : flag.useBy
  const [first = ''] = wrapped(pdf, 'text', small, words, width)
  line(pdf, 'text', small, first, left, baseline)
}
