import { describe, expect, test } from 'vitest'
import {
  a4Bags,
  a4Flags,
  letterBags,
  letterFlags,
  paperMm,
  placeOnSheet,
  soldStocks,
} from '#lib/formats/labels/stock.ts'
import type { BagToPrint } from '#lib/formats/pdf/bag-label.ts'
import { bagLabelsPdf, stickFlagsPdf } from '#lib/formats/pdf/label-sheets.ts'
import type { FlagToPrint } from '#lib/formats/pdf/stick-flag.ts'
import { readPdf } from '#tests/support/read-pdf.ts'

const bag: BagToPrint = {
  code: '4TK-7WA',
  name: '‘Köstliche von Čáslav’',
  crop: 'apple',
  from: 'tree 7QX-2MB, limb C',
  cut: '11 Jan 2027',
  sticks: 18,
  facts: [
    'Use by early Jun, as far as anybody can tell: nick the bark and look for green first.',
    'Fruited true. No protection known.',
    'Seen in leaf Aug 2026; not virus-tested.',
    'Keep near 1 °C, sealed. Good to mid Mar, likely to early Jun.',
  ],
  marks: [
    'Use by early Jun; look for green first',
    'fruited true',
    'seen in leaf Aug 2026, not virus-tested',
  ],
  address: 'https://orchard.example.org/g/marrow-lane/wood/4TK7WA',
  hold: null,
}
const flag: FlagToPrint = {
  code: '4TK-7WA',
  name: '‘Köstliche von Čáslav’',
  crop: 'apple',
  cut: '11 Jan 27',
  useBy: 'use by early Jun, look first',
  isHeld: false,
}
const plain = { title: 'Labels', start: 1, outlines: false }
const bagStocks = soldStocks.filter(({ takes }) => takes === 'bags')
const flagStocks = soldStocks.filter(({ takes }) => takes === 'flags')

describe('sheets by size', () => {
  test.each(soldStocks)('$label lie on their paper, centred, and do not overlap', ({ stock }) => {
    const paper = paperMm[stock.paper]
    const last = placeOnSheet(stock, stock.columns * stock.rows - 1)
    expect(last.x + stock.widthMm).toBeLessThanOrEqual(paper.width + 0.001)
    expect(last.y + stock.heightMm).toBeLessThanOrEqual(paper.height + 0.001)
    expect(paper.width - last.x - stock.widthMm).toBeCloseTo(stock.leftMm, 0)
    expect(stock.gapXMm).toBeGreaterThanOrEqual(0)
  })

  // 1 × 2⅝ in, 3 across: 2¾ in from label to label, ½ in above, 3⁄16 in at the left. From memory, as is the next.
  test('1 × 2⅝ in begin where such sheets begin', () => {
    const stock = soldStocks.find(({ key }) => key === 'letter-30')?.stock
    expect(stock).toMatchObject({ columns: 3, rows: 10 })
    expect(stock?.topMm).toBeCloseTo(12.7, 3)
    expect(stock?.leftMm).toBeCloseTo(4.7625, 3)
    expect((stock?.widthMm ?? 0) + (stock?.gapXMm ?? 0)).toBeCloseTo(69.85, 3)
  })

  test('½ × 1¾ in begin where such sheets begin', () => {
    const stock = soldStocks.find(({ key }) => key === 'letter-80')?.stock
    expect(stock?.topMm).toBeCloseTo(12.7, 3)
    expect(stock?.leftMm).toBeCloseTo(7.144, 3)
    expect((stock?.widthMm ?? 0) + (stock?.gapXMm ?? 0)).toBeCloseTo(52.3875, 3)
  })
})

/** The codes on a page, with the page's size and how many there are. */
const codesOf = async (bytes: Uint8Array, page: number) => {
  const pdf = await readPdf(bytes)
  const codes = (await pdf.textsOf(page)).filter(({ text }) => text === '4TK-7WA')
  const { pages, size } = pdf
  await pdf.close()
  return { codes, pages, size }
}

describe.each(soldStocks)('$label', ({ takes, stock }) => {
  const make = (count: number, start: number) =>
    takes === 'bags'
      ? bagLabelsPdf(
          { ...plain, stock, start },
          Array.from({ length: count }, () => bag),
        )
      : stickFlagsPdf(
          { ...plain, stock, start },
          Array.from({ length: count }, () => flag),
        )
  const perSheet = stock.columns * stock.rows

  test('put each code in its own place, to a tenth of a millimetre, and go on to the next sheet', async () => {
    const bytes = await make(perSheet, 2)
    const { codes, pages, size } = await codesOf(bytes, 1)
    expect(pages).toBe(2)
    expect(size.width).toBeCloseTo(paperMm[stock.paper].width, 1)
    expect(size.height).toBeCloseTo(paperMm[stock.paper].height, 1)
    expect(codes).toHaveLength(perSheet - 1)
    const [first] = codes
    const origin = placeOnSheet(stock, 1)
    const inset = { x: (first?.x ?? 0) - origin.x, y: (first?.y ?? 0) - origin.y }
    for (const [i, code] of codes.entries()) {
      const place = placeOnSheet(stock, i + 1)
      expect(Math.abs(code.x - place.x - inset.x)).toBeLessThan(0.1)
      expect(Math.abs(code.y - place.y - inset.y)).toBeLessThan(0.1)
    }
    expect((await codesOf(bytes, 2)).codes).toHaveLength(1)
  })

  test('keep every text inside its label, nothing under 8 pt, the code largest', async () => {
    const pdf = await readPdf(await make(1, 1))
    const texts = await pdf.textsOf(1)
    await pdf.close()
    const { x, y } = placeOnSheet(stock, 0)
    for (const text of texts) {
      expect(text.size, text.text).toBeGreaterThanOrEqual(8)
      expect(text.x, text.text).toBeGreaterThanOrEqual(x)
      expect(text.x + text.width, text.text).toBeLessThanOrEqual(x + stock.widthMm + 0.01)
      expect(text.y, text.text).toBeLessThanOrEqual(y + stock.heightMm)
      expect(text.y - (text.size * 0.7 * 25.4) / 72, text.text).toBeGreaterThanOrEqual(y)
    }
    const largest = texts.toSorted((a, b) => b.size - a.size)[0]
    expect(largest?.text).toBe('4TK-7WA')
    const words = texts.map(({ text }) => text).join(' ')
    expect(words).toContain('Köstliche von')
    // A flag of half an inch has one line for the name; the code beside it is whole.
    if (stock.heightMm > 13) expect(words).toContain('Čáslav')
    expect(words).toMatch(takes === 'bags' ? /cut 11 Jan 2027/ : /cut 11 Jan 27/)
    if (takes === 'bags') {
      expect(words).toMatch(/use by early Jun/i)
      expect(words).toMatch(/fruited true/i)
      expect(words).toMatch(/not virus-tested/)
    }
  })

  test('carry a QR code that a reader finds', async () => {
    const pdf = await readPdf(await make(2, 1))
    const picture = await pdf.picture(1, 8)
    await pdf.close()
    const { x, y } = placeOnSheet(stock, 1)
    expect(picture.qrIn(x, y, stock.widthMm, stock.heightMm)).toBe(takes === 'bags' ? bag.address : '4TK7WA')
    expect(picture.isGrey).toBe(true)
  })
})

test('a printer’s own offset moves every label', async () => {
  const at = async (topMm: number, leftMm: number) => {
    const stock = { ...a4Bags, topMm, leftMm }
    return (await codesOf(await bagLabelsPdf({ ...plain, stock }, [bag]), 1)).codes[0]
  }
  const [usual, moved] = [await at(13.1, 4.65), await at(15.1, 3.15)]
  expect((moved?.y ?? 0) - (usual?.y ?? 0)).toBeCloseTo(2, 1)
  expect((moved?.x ?? 0) - (usual?.x ?? 0)).toBeCloseTo(-1.5, 1)
})

test('wood on hold says so on its bag and on its sticks, and nothing of use or keeping', async () => {
  for (const { stock } of bagStocks) {
    const held = { ...bag, hold: 'Held 2 Feb 2027 by Nell Fairweather: label lost.' }
    const pdf = await readPdf(await bagLabelsPdf({ ...plain, stock }, [held]))
    const words = (await pdf.textsOf(1)).map(({ text }) => text).join(' ')
    await pdf.close()
    expect(words).toContain('HOLD')
    expect(words).toContain('Do not hand out')
    expect(words).not.toMatch(/use by/i)
  }
  for (const { stock } of flagStocks) {
    const pdf = await readPdf(await stickFlagsPdf({ ...plain, stock }, [{ ...flag, isHeld: true }]))
    const words = (await pdf.textsOf(1)).map(({ text }) => text).join(' ')
    await pdf.close()
    expect(words).toContain('HOLD')
    expect(words).not.toMatch(/use by/i)
  }
})

test('the sheets of the printed page are the same sheets', () => {
  expect(soldStocks.map(({ stock }) => stock)).toEqual(expect.arrayContaining([a4Bags, a4Flags, letterFlags]))
  expect(letterBags.widthMm).toBe(a4Bags.widthMm)
})
