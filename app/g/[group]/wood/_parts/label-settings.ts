import { a4Bags, a4Flags, type LabelStock, letterBags, letterFlags } from '#lib/formats/labels/stock.ts'

/** What is printed, on what, and from which place of the first sheet. */
export interface LabelSettings {
  readonly what: 'bags' | 'flags'
  readonly paper: 'a4' | 'letter'
  readonly start: number
  readonly stock: LabelStock
}

const stocks = {
  bags: { a4: a4Bags, letter: letterBags },
  flags: { a4: a4Flags, letter: letterFlags },
} as const

type Query = Readonly<Record<string, string | string[] | undefined>>

/** Reads the settings out of an address; what makes no sense becomes what is usual. */
export function labelSettings(query: Query): LabelSettings {
  const what = query['what'] === 'flags' ? 'flags' : 'bags'
  const paper = query['paper'] === 'letter' ? 'letter' : 'a4'
  const stock = stocks[what][paper]
  const asked = Number(query['start'])
  const start = Number.isInteger(asked) && asked >= 1 && asked <= stock.columns * stock.rows ? asked : 1
  return { what, paper, start, stock }
}
