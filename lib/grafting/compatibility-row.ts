import type { CompatibilitySourceKey } from '#lib/grafting/compatibility-sources.ts'
import { cultivarSearchKey } from '#lib/grafting/cultivar-name.ts'

/** The best first. A range in a source is read as its worse end. */
export const ratings = ['compatible', 'usually', 'sometimes', 'poor', 'incompatible'] as const

export type Rating = (typeof ratings)[number]

/** A plant as a row names it: a genus (`pyrus`), a species (`pyrus-communis`), or some varieties of a species. */
export interface Side {
  readonly plant: string
  /** Names folded for comparison; empty when the row is about all of them. */
  readonly varieties: readonly string[]
}

/** What is known of one plant grafted on another. It says nothing about the other way round. */
export interface CompatibilityRow {
  readonly scion: readonly Side[]
  readonly stock: readonly Side[]
  readonly rating: Rating
  /** Unions that held for years are known to have failed later. */
  readonly failsLater: boolean
  readonly note: string | null
  readonly source: CompatibilitySourceKey
}

type Plants = string | Side | readonly (string | Side)[]

const sides = (plants: Plants): readonly Side[] =>
  (Array.isArray(plants) ? plants : [plants]).map((plant) =>
    typeof plant === 'string' ? { plant, varieties: [] } : plant,
  )

/** Some varieties, or clones of a rootstock, of a species. */
export const varietiesOf = (plant: string, ...names: readonly string[]): Side => ({
  plant,
  varieties: names.map(cultivarSearchKey),
})

interface Extras {
  readonly later?: true
  readonly note?: string
}

/** A row: scion on stock. */
export const on = (
  scion: Plants,
  stock: Plants,
  rating: Rating,
  source: CompatibilitySourceKey,
  { later, note }: Extras = {},
): CompatibilityRow => ({
  scion: sides(scion),
  stock: sides(stock),
  rating,
  failsLater: later === true,
  note: note ?? null,
  source,
})

/** Two rows: each on the other. */
export const eitherWay = (
  one: Plants,
  other: Plants,
  rating: Rating,
  source: CompatibilitySourceKey,
  extras?: Extras,
): readonly CompatibilityRow[] => [
  on(one, other, rating, source, extras),
  on(other, one, rating, source, extras),
]
