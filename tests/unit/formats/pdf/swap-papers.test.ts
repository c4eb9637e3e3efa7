import { expect, test } from 'vitest'
import { type SwapPapers, swapPapersPdf } from '#lib/formats/pdf/swap-papers.ts'
import { careSlipFor } from '#lib/swaps/care-slips.ts'
import { storageProfiles } from '#lib/viability/storage-profiles.ts'
import { readPdf } from '#tests/support/read-pdf.ts'

const row = {
  first: '‘Čáslavské’',
  isName: true,
  code: '4TK-7WA',
  place: 'Table A, bag 3',
  sticks: 2,
  isDone: false,
  isHeld: false,
}
const slip = careSlipFor('Apple', 'apple')
const papers: SwapPapers = {
  swap: 'February swap',
  paper: 'A4',
  signIn: { names: Array.from({ length: 60 }, (_, i) => `Ōtto Žáček ${i}`), blanks: 10 },
  tableCards: [
    { crop: 'Apple', lots: [{ name: row.first, code: row.code, place: row.place, share: '2 sticks each' }] },
  ],
  byPerson: Array.from({ length: 9 }, (_, i) => ({
    title: `Person ${i}`,
    isName: false,
    sub: '3 lots, 6 sticks',
    rows: [row, row, { ...row, isHeld: true }],
    lines: ['Taken besides: lot code and sticks', 'Signature'],
  })),
  byTable: [
    {
      title: '‘Čáslavské’  4TK-7WA',
      isName: true,
      sub: 'Apple',
      rows: [{ ...row, first: 'Mabel', isName: false }],
      lines: [],
    },
  ],
  careSlips: [
    { crop: 'Apple', parts: [{ title: 'Until you use it', lines: slip.keep.map(({ text }) => text) }] },
  ],
}

async function pagesOf(of: SwapPapers) {
  const pdf = await readPdf(await swapPapersPdf(of))
  const pages = await Promise.all(Array.from({ length: pdf.pages }, (_, i) => pdf.textsOf(i + 1)))
  const { size } = pdf
  await pdf.close()
  return { pages, size }
}

test('everything is in one file: names to sign, cards, lists, and two slips to the sheet', async () => {
  const { pages, size } = await pagesOf(papers)
  const words = pages.map((texts) => texts.map(({ text }) => text).join('\n'))
  expect(words.join('\n').match(/Otto Žáček \d+/g)).toHaveLength(60)
  expect(words.filter((page) => page.includes('Sign in here'))).toHaveLength(1)
  expect(words.join('\n').match(/Person \d/g)).toHaveLength(9)
  expect(words.join('\n').match(/ON HOLD: do not hand over/g)).toHaveLength(9)
  expect(words.at(-1)?.match(/Wood to take home/g)).toHaveLength(2)
  expect(size).toMatchObject({ width: expect.closeTo(210, 1), height: expect.closeTo(297, 1) })
  for (const text of pages.flat()) {
    expect(text.size, text.text).toBeGreaterThanOrEqual(8)
    expect(text.x + text.width, text.text).toBeLessThanOrEqual(size.width)
    expect(text.y, text.text).toBeLessThanOrEqual(size.height - 5)
  }
})

test('a person’s list stays together, its sum under its rows', async () => {
  const { pages } = await pagesOf({ ...papers, signIn: null, tableCards: [], byTable: [], careSlips: [] })
  for (const texts of pages) {
    const words = texts.map(({ text }) => text)
    const people = words.filter((word) => /^Person \d$/.test(word)).length
    expect(words.filter((word) => word === 'Signature')).toHaveLength(people)
    expect(words.filter((word) => word === '6')).toHaveLength(people)
  }
})

test('every profile of wood has advice with its caution about knives and sealants', () => {
  for (const profile of [...Object.keys(storageProfiles), null]) {
    const { keep, use, caution } = careSlipFor('Something', profile)
    expect(keep.length).toBeGreaterThan(0)
    expect(use.length).toBeGreaterThan(2)
    const words = caution.map(({ text }) => text).join(' ')
    expect(words).toMatch(/knife/)
    expect(words).toMatch(/sealants/)
    expect(words).toMatch(/agricultural authority/)
  }
  // Evergreen wood is hurt by the cold that dormant wood is kept at.
  expect(
    careSlipFor('Lemon', 'citrus_budwood')
      .keep.map(({ text }) => text)
      .join(' '),
  ).not.toMatch(/0 to 2 °C/)
})
