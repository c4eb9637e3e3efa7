import { type Face, type Pdf, pt } from '#lib/formats/pdf/paper.ts'

/** A size of type in points. */
export type Points = number

// Of Latin Extended-A, Atkinson Hyperlegible draws these; Besley draws all of it.
const wide = /[\u0020-\u007e\u00a0-\u017f‘’“”–—…·×°€•½−ȘșȚțẞ]/u
const narrowGaps =
  /[\u00ad\u00b5\u0108\u0109\u0114\u0115\u011c\u011d\u0124\u0125\u0128\u0129\u012c\u012d\u0134\u0135\u0138\u013f\u0140\u0149-\u014f\u0156\u0157\u015c\u015d\u0166-\u0169\u016c\u016d\u017f]/u

const isDrawn = (face: Face, character: string): boolean =>
  wide.test(character) && (face === 'name' || !narrowGaps.test(character))

/**
 * The text as the fonts can draw it: a letter whose accent no font has keeps its letter, a script that no font has
 * becomes question marks rather than nothing.
 */
function printable(face: Face, text: string): string {
  return Array.from(text.normalize('NFC').replace(/\s+/gu, ' '), (character) => {
    if (isDrawn(face, character)) return character
    const plain = character.normalize('NFKD').replace(/\p{Mark}/gu, '')
    return plain !== '' && Array.from(plain).every((letter) => isDrawn(face, letter)) ? plain : '?'
  }).join('')
}

const measuredAt = 100
const measured = new WeakMap<Pdf, Map<string, number>>()

/** Width of a line in millimetres. A width grows with the size, so each text is measured once. */
export function widthOf(pdf: Pdf, face: Face, size: Points, text: string): number {
  const known = measured.get(pdf) ?? new Map<string, number>()
  measured.set(pdf, known)
  const key = `${face} ${text}`
  let width = known.get(key)
  if (width === undefined) {
    width = pdf.font(face).fontSize(measuredAt).widthOfString(printable(face, text))
    known.set(key, width)
  }
  return (((width * size) / measuredAt) * 25.4) / 72
}

export interface LineOptions {
  /** Right edge instead of left, or the middle. */
  readonly align?: 'left' | 'right' | 'centre'
  readonly white?: boolean
}

/** One line with its baseline at `y`; millimetres from the upper left of the page. */
export function line(
  pdf: Pdf,
  face: Face,
  size: Points,
  text: string,
  x: number,
  y: number,
  options: LineOptions = {},
): void {
  const shown = printable(face, text)
  const width = options.align ? widthOf(pdf, face, size, shown) : 0
  const left = options.align === 'right' ? x - width : options.align === 'centre' ? x - width / 2 : x
  pdf
    .font(face)
    .fontSize(size)
    .fillColor(options.white ? '#fff' : '#000')
    .text(shown, pt(left), pt(y), { lineBreak: false, baseline: 'alphabetic' })
}

/** The text in lines that fit a width; a word that is wider than the line is broken. */
export function wrapped(pdf: Pdf, face: Face, size: Points, text: string, width: number): string[] {
  const fits = (candidate: string) => widthOf(pdf, face, size, candidate) <= width
  const lines: string[] = []
  let current = ''
  for (const word of text.split(/ +/u)) {
    const longer = current === '' ? word : `${current} ${word}`
    if (fits(longer)) {
      current = longer
      continue
    }
    if (current !== '') lines.push(current)
    current = ''
    for (const letter of word) {
      if (current !== '' && !fits(current + letter)) {
        lines.push(current)
        current = ''
      }
      current += letter
    }
  }
  if (current !== '') lines.push(current)
  return lines
}

/** At most so many lines; what does not fit ends in an ellipsis. */
export function clipped(
  pdf: Pdf,
  face: Face,
  size: Points,
  text: string,
  width: number,
  most: number,
): string[] {
  const lines = wrapped(pdf, face, size, text, width)
  if (lines.length <= most) return lines
  const kept = lines.slice(0, most)
  let last = kept.at(-1) ?? ''
  while (last !== '' && widthOf(pdf, face, size, `${last}…`) > width) last = last.slice(0, -1)
  return [...kept.slice(0, -1), `${last.trimEnd()}…`]
}

/** Distance from baseline to baseline of a size, in millimetres. */
export const leading = (size: Points): number => (size * 1.22 * 25.4) / 72
