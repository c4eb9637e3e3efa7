import { citrusRows } from '#lib/grafting/compatibility-citrus.ts'
import { otherRows } from '#lib/grafting/compatibility-other.ts'
import { pomeRows } from '#lib/grafting/compatibility-pome.ts'
import { type CompatibilityRow, type Rating, ratings, type Side } from '#lib/grafting/compatibility-row.ts'
import { compatibilitySources, type SourceGrade } from '#lib/grafting/compatibility-sources.ts'
import { stoneRows } from '#lib/grafting/compatibility-stone.ts'
import { cultivarSearchKey } from '#lib/grafting/cultivar-name.ts'
import type { FactBasis } from '#lib/grafting/methods.ts'
import type { GraftPartner } from '#lib/grafting/rootstocks.ts'

export const compatibilityRows: readonly CompatibilityRow[] = [
  ...pomeRows,
  ...stoneRows,
  ...citrusRows,
  ...otherRows,
]

/** What the answer goes by, from the most particular to nothing at all. */
export type CompatibilityMatch = 'variety' | 'species' | 'genus' | 'same-species' | 'other-family' | 'nothing'

/** What is known of a scion on a stock. It warns; it never forbids. */
export interface Compatibility {
  readonly rating: Rating | 'unknown'
  /** Unions that held for years are known to have failed later. */
  readonly failsLater: boolean
  readonly note: string | null
  readonly match: CompatibilityMatch
  /** Null when nothing is known. */
  readonly grade: SourceGrade | null
  readonly basis: FactBasis | null
  /** Worth a word before anybody grafts: rated sometimes or worse, or nothing known. */
  readonly warns: boolean
}

export const ratingWords: Readonly<Record<Rating | 'unknown', string>> = {
  compatible: 'go together',
  usually: 'usually go together',
  sometimes: 'go together sometimes: it depends on the variety or clone',
  poor: 'go together poorly, or not for long',
  incompatible: 'do not go together',
  unknown: 'nothing known about these two',
}

const genusOf = (plant: string): string => plant.split('-')[0] ?? plant

/** How closely a side names a plant: 3 by variety, 2 by species, 1 by genus; 0 when it does not mean it. */
function closeness(side: Side, partner: GraftPartner, names: ReadonlySet<string>): number {
  if (side.plant === partner.taxonKey) {
    if (side.varieties.length === 0) return 2
    return side.varieties.some((variety) => names.has(variety)) ? 3 : 0
  }
  return side.plant === genusOf(partner.taxonKey) && side.varieties.length === 0 ? 1 : 0
}

const closest = (sides: readonly Side[], partner: GraftPartner, names: ReadonlySet<string>): number =>
  Math.max(...sides.map((side) => closeness(side, partner, names)))

const namesOf = ({ names }: GraftPartner): ReadonlySet<string> => new Set(names.map(cultivarSearchKey))

const isWorse = (a: Rating, b: Rating) => ratings.indexOf(a) > ratings.indexOf(b)

interface Found {
  readonly row: CompatibilityRow
  /** Both sides together, 2 to 6. */
  readonly closeness: number
  readonly match: 'variety' | 'species' | 'genus'
}

/** The row that names the two most closely; of two that do so equally, the worse. */
function closestRow(scion: GraftPartner, stock: GraftPartner): Found | null {
  const scionNames = namesOf(scion)
  const stockNames = namesOf(stock)
  let best: Found | null = null
  for (const row of compatibilityRows) {
    const ofScion = closest(row.scion, scion, scionNames)
    const ofStock = closest(row.stock, stock, stockNames)
    if (ofScion === 0 || ofStock === 0) continue
    const sum = ofScion + ofStock
    if (best && (sum < best.closeness || (sum === best.closeness && !isWorse(row.rating, best.row.rating))))
      continue
    const match: Found['match'] =
      Math.max(ofScion, ofStock) === 3 ? 'variety' : sum === 4 ? 'species' : 'genus'
    best = { row, closeness: sum, match }
  }
  return best
}

const fallback = (rating: Compatibility['rating'], match: CompatibilityMatch): Compatibility => ({
  rating,
  failsLater: false,
  note: null,
  match,
  grade: match === 'nothing' ? null : 'common-practice',
  basis: match === 'nothing' ? null : 'common practice, no source',
  warns: rating !== 'compatible',
})

/** Two plants named by species and variety are as close as a default for one species gets. */
const sameSpeciesCloseness = 4

/**
 * What is known of a scion on a stock, in that direction. The most particular row wins: varieties and clones before
 * species, species before genera. Without a row, plants of one species are taken to go together and plants of
 * different families not to (common practice, no source); of anything else nothing is known.
 */
export function compatibilityOf(scion: GraftPartner, stock: GraftPartner): Compatibility {
  const found = closestRow(scion, stock)
  if (scion.taxonKey === stock.taxonKey && (found === null || found.closeness < sameSpeciesCloseness)) {
    return fallback('compatible', 'same-species')
  }
  if (found) {
    const { rating, failsLater, note, source } = found.row
    const { grade, basis } = compatibilitySources[source]
    const warns = isWorse(rating, 'usually')
    return { rating, failsLater, note, match: found.match, grade, basis, warns }
  }
  const isOtherFamily = scion.family !== null && stock.family !== null && scion.family !== stock.family
  return isOtherFamily ? fallback('incompatible', 'other-family') : fallback('unknown', 'nothing')
}

/** A piece in between: two unions, so two answers. */
export interface InterstemCompatibility {
  readonly scionOnInterstem: Compatibility
  readonly interstemOnStock: Compatibility
  /** The worse of the two; unknown when one is unknown and neither is poor. */
  readonly rating: Compatibility['rating']
  readonly warns: boolean
}

/** What is known of a scion on a piece in between, and of that piece on the stock. */
export function interstemCompatibility(
  scion: GraftPartner,
  interstem: GraftPartner,
  stock: GraftPartner,
): InterstemCompatibility {
  const scionOnInterstem = compatibilityOf(scion, interstem)
  const interstemOnStock = compatibilityOf(interstem, stock)
  const order = ['compatible', 'usually', 'sometimes', 'unknown', 'poor', 'incompatible'] as const
  const rating =
    order[Math.max(order.indexOf(scionOnInterstem.rating), order.indexOf(interstemOnStock.rating))] ??
    'unknown'
  return {
    scionOnInterstem,
    interstemOnStock,
    rating,
    warns: scionOnInterstem.warns || interstemOnStock.warns,
  }
}
