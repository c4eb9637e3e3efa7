import { paperMm } from '#lib/formats/labels/stock.ts'
import { rule } from '#lib/formats/pdf/marks.ts'
import { type Face, type Paper, type Pdf, pt } from '#lib/formats/pdf/paper.ts'
import { leading, line, type Points, wrapped } from '#lib/formats/pdf/text.ts'

/** A page that is filled from above and followed by another when it is full. */
export interface Flow {
  readonly pdf: Pdf
  readonly left: number
  readonly width: number
  /** Where the next thing begins, millimetres. */
  y: number
  readonly bottom: number
  /** Says what a page is of, at its foot. */
  readonly foot: string
  newPage(): void
}

const margin = 14

/** Starts a paper; its first page is there when it is asked for. */
export function flow(pdf: Pdf, paper: Paper, foot: string): Flow {
  const { width, height } = paperMm[paper]
  const it: Flow = {
    pdf,
    left: margin,
    width: width - 2 * margin,
    y: margin,
    bottom: height - margin - 6,
    foot,
    newPage: () => {
      pdf.addPage({ size: [pt(width), pt(height)], margin: 0 })
      line(pdf, 'text', 8, foot, margin, height - margin + 2)
      it.y = margin
    },
  }
  return it
}

/** Goes on to a new page unless there is so much room. */
export function need(it: Flow, height: number): void {
  if (it.y + height > it.bottom) it.newPage()
}

/** A paragraph over the whole width. */
export function paragraph(it: Flow, face: Face, size: Points, text: string, indent = 0): void {
  for (const part of wrapped(it.pdf, face, size, text, it.width - indent)) {
    need(it, leading(size))
    line(it.pdf, face, size, part, it.left + indent, it.y + leading(size) * 0.78)
    it.y += leading(size)
  }
}

/** A heading with an ink rule above it. */
export function heading(it: Flow, text: string, size: Points = 15): void {
  rule(it.pdf, it.left, it.y, it.width, 0.5)
  it.y += 1.2
  paragraph(it, 'name', size, text)
  it.y += 0.8
}

/** A ruled line to write on, with small words over its beginning. */
export function writingLine(it: Flow, words: string): void {
  need(it, 10)
  line(it.pdf, 'text', 8, words, it.left, it.y + 3.4)
  rule(it.pdf, it.left, it.y + 9, it.width, 0.2)
  it.y += 10
}
