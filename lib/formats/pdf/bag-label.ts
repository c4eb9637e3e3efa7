import { addressModules, qrModules } from '#lib/formats/labels/qr-modules.ts'
import type { LabelStock } from '#lib/formats/labels/stock.ts'
import { blackField, drawQr, drawSlantUp, drawStick, rule, slantUpWidth } from '#lib/formats/pdf/marks.ts'
import { type Pdf, pt } from '#lib/formats/pdf/paper.ts'
import { clipped, leading, line, widthOf, wrapped } from '#lib/formats/pdf/text.ts'

/** What the label of a bag says, in words already. */
export interface BagToPrint {
  /** ABC-DEF. */
  readonly code: string
  /** In its quotes. */
  readonly name: string
  readonly crop: string
  readonly from: string
  /** "11 Jan 2027". */
  readonly cut: string
  readonly sticks: number
  /** Whole sentences: use by, identity, health, sharing, keeping; what matters most first. */
  readonly facts: readonly string[]
  /** The same in few words, for small labels. */
  readonly marks: readonly string[]
  /** What the code on the bag leads to; null for the bare code. */
  readonly address: string | null
  readonly hold: string | null
}

interface Corner {
  readonly x: number
  readonly y: number
}

interface Sizes {
  readonly pad: number
  readonly top: number
  readonly name: number
  readonly code: number
  readonly facts: number
  readonly qr: number
  readonly stick: number
}

/** Type in points, drawings in millimetres. Nothing is under 8 pt, and the code is the largest. */
function sizesFor({ widthMm, heightMm }: LabelStock): Sizes {
  if (heightMm >= 60) return { pad: 4, top: 10, name: 17, code: 29, facts: 9.5, qr: 19, stick: 20 }
  if (heightMm >= 48) return { pad: 3, top: 9, name: 14, code: 25, facts: 8.5, qr: 17, stick: 16 }
  if (heightMm >= 30)
    return widthMm >= 90
      ? { pad: 2, top: 8, name: 11, code: 19, facts: 8, qr: 15, stick: 12 }
      : { pad: 2, top: 8, name: 9, code: 15, facts: 8, qr: 12.6, stick: 9 }
  return { pad: 1.5, top: 8, name: 8.5, code: 13, facts: 8, qr: 11.6, stick: 8 }
}

/** One label of a bag in its place on the sheet. */
export function drawBagLabel(pdf: Pdf, label: BagToPrint, stock: LabelStock, { x, y }: Corner): void {
  const sizes = sizesFor(stock)
  const { pad } = sizes
  const left = x + pad
  const right = x + stock.widthMm - pad
  const bottom = y + stock.heightMm - pad
  const aside = drawAside(pdf, label, sizes, { x: right, y: y + pad })
  const under = drawHead(pdf, label, sizes, { x: left, y: y + pad }, aside.left - 1.5 - left)
  const ruled = Math.max(under, aside.bottom) + 0.6
  rule(pdf, left, ruled, right - left, 0.3)
  const room = { left, top: ruled + 0.4, width: right - left, bottom }
  if (label.hold === null) drawFacts(pdf, label, sizes, room)
  else drawHold(pdf, label.hold, label.sticks, sizes, room)
}

/** The QR code and the stick that shows which end is up, from the right edge inwards. */
function drawAside(pdf: Pdf, label: BagToPrint, sizes: Sizes, at: Corner) {
  const { qr, stick } = sizes
  const stickLeft = at.x - slantUpWidth(stick)
  drawSlantUp(pdf, stickLeft, at.y, stick)
  const isRoomy = sizes.name >= 14
  if (isRoomy) {
    const middle = stickLeft + slantUpWidth(stick) / 2
    line(pdf, 'text', 8, 'slant', middle, at.y + stick + 3.2, { align: 'centre' })
    line(pdf, 'text', 8, 'end up', middle, at.y + stick + 6.2, { align: 'centre' })
  }
  const modules = label.address === null ? qrModules(label.code) : addressModules(label.address)
  // Four quiet modules on each side, of which the label's own edge gives the upper ones.
  const quiet = (qr / modules.length) * 4
  const qrLeft = stickLeft - Math.max(quiet, isRoomy ? 3 : 1.2) - qr
  drawQr(pdf, modules, qrLeft, at.y + 0.4, qr)
  return {
    left: qrLeft - quiet,
    bottom: at.y + Math.max(qr + Math.min(quiet, 1.6), stick + (isRoomy ? 6.8 : 0.4)),
  }
}

/** Crop, tree and day of cutting; the name; the code. Gives where it ends. */
function drawHead(pdf: Pdf, label: BagToPrint, sizes: Sizes, at: Corner, width: number): number {
  let y = at.y + leading(sizes.top) * 0.8
  const cut = `cut ${label.cut}`
  const whole = `${label.crop} · ${label.from} · ${cut}`
  const short = `${label.crop} · ${cut}`
  const isWhole = widthOf(pdf, 'bold', sizes.top, whole) <= width
  const sentences = isWhole ? [whole] : sizes.name >= 14 ? [short, label.from] : [short]
  for (const text of sentences.flatMap((sentence) => wrapped(pdf, 'bold', sizes.top, sentence, width))) {
    line(pdf, 'bold', sizes.top, text, at.x, y)
    y += leading(sizes.top)
  }
  const nameSize = nameSizeFor(pdf, label.name, sizes.name, width)
  y += leading(nameSize) * 0.86 - leading(sizes.top) * 0.8
  for (const text of clipped(pdf, 'name', nameSize, label.name, width, 2)) {
    line(pdf, 'name', nameSize, text, at.x, y)
    y += leading(nameSize) * 0.95
  }
  const codeSize = fitted(pdf, label.code, sizes.code, width)
  y += leading(codeSize) * 0.72 - leading(nameSize) * 0.72
  line(pdf, 'code', codeSize, label.code, at.x, y)
  return y + codeSize * 0.05
}

/** The largest size, not under 8 pt, at which a name takes at most two lines. */
function nameSizeFor(pdf: Pdf, name: string, size: number, width: number): number {
  let fit = size
  while (fit > 8 && wrapped(pdf, 'name', fit, name, width).length > (size < 14 ? 1 : 2)) fit -= 0.5
  return fit
}

function fitted(pdf: Pdf, code: string, size: number, width: number): number {
  const needed = widthOf(pdf, 'code', size, code)
  return needed <= width ? size : Math.max(11, (size * width) / needed)
}

interface Room {
  readonly left: number
  readonly top: number
  readonly width: number
  readonly bottom: number
}

const strikeHeight = 7

/** The longest wording that fits, then the sticks to strike where there is room for them. */
function drawFacts(pdf: Pdf, label: BagToPrint, sizes: Sizes, room: Room): void {
  const height = room.bottom - room.top
  const linesOf = (sentences: readonly string[], size: number) =>
    sentences.flatMap((sentence) => wrapped(pdf, 'text', size, sentence, room.width))
  const wordings = [
    { lines: linesOf(label.facts, sizes.facts), size: sizes.facts },
    { lines: linesOf(label.facts, 8), size: 8 },
    { lines: linesOf([label.facts.join(' ')], 8), size: 8 },
    { lines: linesOf(label.marks, 8), size: 8 },
    { lines: linesOf([label.marks.join('; ')], 8), size: 8 },
  ]
  const fits = ({ lines, size }: { lines: string[]; size: number }) => lines.length * leading(size) <= height
  const chosen = wordings.find(fits) ?? wordings.at(-1)
  if (!chosen) return
  const most = Math.floor(height / leading(chosen.size))
  let y = room.top + leading(chosen.size) * 0.82
  for (const text of chosen.lines.slice(0, most)) {
    line(pdf, 'text', chosen.size, text, room.left, y)
    y += leading(chosen.size)
  }
  const below = room.bottom - (y - leading(chosen.size) * 0.6)
  if (below >= strikeHeight) drawStrike(pdf, label.sticks, room)
}

/** Sticks to strike one by one with a pen, so that the bag and the ledger can be brought together again. */
function drawStrike(pdf: Pdf, sticks: number, room: Room): void {
  const words = 'Strike one per stick'
  line(pdf, 'text', 8, words, room.left, room.bottom - 1)
  const from = room.left + widthOf(pdf, 'text', 8, words) + 2
  const pitch = 2.1
  const most = Math.floor((room.left + room.width - from - 14) / (pitch + 0.24))
  const drawn = Math.min(sticks, most)
  for (let i = 0; i < drawn; i++) {
    drawStick(pdf, from + i * pitch + Math.floor(i / 5) * 1.2, room.bottom - 5.6, 1.2, 5.4)
  }
  if (drawn > 0) pdf.lineWidth(pt(0.2)).stroke('#000')
  if (sticks > drawn) {
    line(pdf, 'text', 8, `+ ${sticks - drawn}`, room.left + room.width, room.bottom - 1, { align: 'right' })
  }
}

function drawHold(pdf: Pdf, reason: string, sticks: number, sizes: Sizes, room: Room): void {
  const size = Math.min(sizes.code, ((room.bottom - room.top) * 0.5 * 72) / 25.4)
  const height = leading(size) * 0.95
  blackField(pdf, room.left, room.top + 0.4, room.width, height)
  line(pdf, 'code', size, 'HOLD', room.left + 2, room.top + 0.4 + height * 0.76, { white: true })
  const words = `Do not hand out, graft or share. ${sticks === 1 ? '1 stick' : `${sticks} sticks`}. ${reason}`
  const top = room.top + height + 0.6
  const most = Math.max(1, Math.floor((room.bottom - top) / leading(8)))
  let y = top + leading(8) * 0.82
  for (const text of clipped(pdf, 'text', 8, words, room.width, most)) {
    line(pdf, 'text', 8, text, room.left, y)
    y += leading(8)
  }
}
