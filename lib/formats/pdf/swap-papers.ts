import { type Flow, flow, heading, need, paragraph, writingLine } from '#lib/formats/pdf/flow.ts'
import { box, rule } from '#lib/formats/pdf/marks.ts'
import { bytesOf, newPdf, type Paper, type Pdf } from '#lib/formats/pdf/paper.ts'
import { clipped, leading, line, wrapped } from '#lib/formats/pdf/text.ts'

export interface PickRow {
  /** Whose sticks, or what they are of. */
  readonly first: string
  readonly isName: boolean
  readonly code: string
  readonly place: string
  readonly sticks: number
  readonly isDone: boolean
  readonly isHeld: boolean
}

export interface PickSheet {
  readonly title: string
  readonly isName: boolean
  readonly sub: string
  readonly rows: readonly PickRow[]
  /** Lines to write on, each with its words. */
  readonly lines: readonly string[]
}

export interface TableCard {
  readonly crop: string
  readonly lots: readonly {
    readonly name: string
    readonly code: string
    readonly place: string
    readonly share: string
  }[]
}

export interface SlipPart {
  readonly title: string
  /** Each with its source in brackets already. */
  readonly lines: readonly string[]
}

export interface CareSlipSheet {
  readonly crop: string
  readonly parts: readonly SlipPart[]
}

/** What of a swap is printed; empty lists print nothing. */
export interface SwapPapers {
  readonly swap: string
  readonly paper: Paper
  readonly signIn: { readonly names: readonly string[]; readonly blanks: number } | null
  readonly tableCards: readonly TableCard[]
  readonly byPerson: readonly PickSheet[]
  readonly byTable: readonly PickSheet[]
  readonly careSlips: readonly CareSlipSheet[]
}

/** One file with everything asked for: sign-in sheet, table cards, lists, care slips. Black only. */
export function swapPapersPdf(papers: SwapPapers): Promise<Uint8Array<ArrayBuffer>> {
  const pdf = newPdf(papers.swap, papers.paper)
  const part = (words: string) => flow(pdf, papers.paper, `${papers.swap} · ${words}`)
  if (papers.signIn) drawSignIn(part('sign-in sheet'), papers.signIn)
  for (const card of papers.tableCards) drawTableCard(part(`table of ${card.crop}`), card)
  drawPickSheets(part('list by person'), papers.byPerson, true)
  drawPickSheets(part('list by table'), papers.byTable, false)
  for (const slip of papers.careSlips) drawSlips(pdf, papers, slip)
  return bytesOf(pdf)
}

const rowHeight = 8.4

function drawSignIn(it: Flow, { names, blanks }: NonNullable<SwapPapers['signIn']>): void {
  it.newPage()
  heading(it, 'Sign in here', 22)
  paragraph(it, 'text', 10, 'Tick your name and sign. Not on the list? Write yourself at its end.')
  it.y += 2
  const rows = [...names, ...Array.from({ length: blanks }, () => '')]
  for (const name of rows) {
    need(it, rowHeight)
    box(it.pdf, it.left, it.y + 1.8, 4.6, 4.6)
    const [shown = ''] = clipped(it.pdf, 'text', 11, name, it.width * 0.5, 1)
    line(it.pdf, 'text', 11, shown, it.left + 8, it.y + 6)
    rule(it.pdf, it.left + it.width * 0.58, it.y + rowHeight - 1, it.width * 0.42, 0.2)
    it.y += rowHeight
  }
}

function drawTableCard(it: Flow, card: TableCard): void {
  it.newPage()
  for (const text of wrapped(it.pdf, 'name', 60, card.crop, it.width)) {
    line(it.pdf, 'name', 60, text, it.left, it.y + 20)
    it.y += 24
  }
  it.y += 2
  paragraph(
    it,
    'bold',
    14,
    'Label what you take before you pick up the next. Wipe hands and shears between varieties.',
  )
  it.y += 4
  rule(it.pdf, it.left, it.y, it.width, 0.5)
  it.y += 2
  for (const lot of card.lots) {
    need(it, 10)
    const [name = ''] = clipped(it.pdf, 'name', 15, lot.name, it.width - 78, 1)
    line(it.pdf, 'name', 15, name, it.left, it.y + 6)
    line(it.pdf, 'code', 13, lot.code, it.left + it.width - 76, it.y + 6)
    const [place = ''] = clipped(
      it.pdf,
      'text',
      10,
      [lot.place, lot.share].filter(Boolean).join(' · '),
      48,
      1,
    )
    line(it.pdf, 'text', 10, place, it.left + it.width, it.y + 6, { align: 'right' })
    rule(it.pdf, it.left, it.y + 9, it.width, 0.1)
    it.y += 10
  }
}

function drawPickSheets(it: Flow, sheets: readonly PickSheet[], apart: boolean): void {
  if (sheets.length === 0) return
  it.newPage()
  for (const sheet of sheets) {
    const whole = 16 + (sheet.rows.length + 1) * rowHeight + sheet.lines.length * 10
    // A person's list stays on one page where it can; a person with a long one begins a page.
    if (apart || whole < it.bottom / 3) need(it, Math.min(whole, it.bottom - 20))
    else need(it, 16 + 2 * rowHeight)
    drawPickSheet(it, sheet)
    it.y += 6
  }
}

function drawPickSheet(it: Flow, sheet: PickSheet): void {
  rule(it.pdf, it.left, it.y, it.width, 0.5)
  it.y += 1.2
  paragraph(it, sheet.isName ? 'name' : 'bold', 15, sheet.title)
  paragraph(it, 'text', 9.5, sheet.sub)
  it.y += 1
  let sticks = 0
  for (const row of sheet.rows) {
    need(it, rowHeight)
    drawPickRow(it, row)
    sticks += row.sticks
  }
  need(it, rowHeight)
  rule(it.pdf, it.left, it.y + 0.6, it.width, 0.25)
  rule(it.pdf, it.left, it.y + 1.4, it.width, 0.25)
  line(it.pdf, 'bold', 11, 'All', it.left + 8, it.y + 6.4)
  line(it.pdf, 'bold', 11, String(sticks), it.left + it.width, it.y + 6.4, { align: 'right' })
  it.y += rowHeight
  for (const words of sheet.lines) writingLine(it, words)
}

function drawPickRow(it: Flow, row: PickRow): void {
  const { pdf } = it
  const baseline = it.y + 6
  box(pdf, it.left, it.y + 1.8, 4.6, 4.6)
  if (row.isDone) {
    rule(pdf, it.left, it.y + 4.1, 4.6, 0.6)
  }
  const [first = ''] = clipped(pdf, row.isName ? 'name' : 'text', 11, row.first, it.width * 0.42, 1)
  line(pdf, row.isName ? 'name' : 'text', 11, first, it.left + 8, baseline)
  line(pdf, 'code', 11, row.code, it.left + it.width * 0.52, baseline)
  const where = row.isHeld ? 'ON HOLD: do not hand over' : row.place
  const [place = ''] = clipped(pdf, row.isHeld ? 'bold' : 'text', 9.5, where, it.width * 0.26, 1)
  line(pdf, row.isHeld ? 'bold' : 'text', 9.5, place, it.left + it.width * 0.67, baseline)
  line(pdf, 'bold', 11, String(row.sticks), it.left + it.width, baseline, { align: 'right' })
  rule(pdf, it.left, it.y + rowHeight - 0.4, it.width, 0.1)
  it.y += rowHeight
}

/** Two slips of a crop on one sheet, to be cut across the middle. */
function drawSlips(pdf: Pdf, papers: SwapPapers, slip: CareSlipSheet): void {
  const it = flow(pdf, papers.paper, papers.swap)
  it.newPage()
  const middle = (it.bottom + 20) / 2
  drawSlip(it, slip, 10)
  rule(pdf, 0, middle, it.width + 2 * it.left, 0.1)
  drawSlip(it, slip, middle + 8)
}

const slipSize = 9.5

function drawSlip(it: Flow, slip: CareSlipSheet, top: number): void {
  const { pdf } = it
  line(pdf, 'name', 20, slip.crop, it.left, top + 6)
  line(pdf, 'text', 9, 'Wood to take home', it.left + it.width, top + 6, { align: 'right' })
  rule(pdf, it.left, top + 9, it.width, 0.5)
  const gap = 7
  const column = (it.width - gap) / 2
  const bottoms = [top + 12, top + 12]
  for (const [i, part] of slip.parts.entries()) {
    const side = i % 2
    const x = it.left + side * (column + gap)
    let y = bottoms[side] ?? top
    line(pdf, 'bold', 11, part.title, x, y + 3.4)
    y += 5.4
    for (const sentence of part.lines) {
      for (const text of wrapped(pdf, 'text', slipSize, sentence, column)) {
        line(pdf, 'text', slipSize, text, x, y + leading(slipSize) * 0.75)
        y += leading(slipSize)
      }
      y += 0.8
    }
    bottoms[side] = y + 2
  }
}
