import { type CivilDate, civilDate } from '#lib/kernel/civil-date.ts'
import type { ResultsChoices, ResultsFilter } from '#lib/results/outcome-tallies.ts'

/** What the results are narrowed to, as it stands in the address. */
export interface ResultsAddress {
  /** The year in which the season began. */
  readonly season: number | null
  /** The key of a taxon. */
  readonly crop: string | null
}

const one = (value: string | string[] | undefined | null) =>
  Array.isArray(value) ? value[0] : (value ?? undefined)

/** Reads the address; what is not among the choices is left out. */
export function resultsAddress(
  query: { readonly season?: string | string[] | undefined; readonly crop?: string | string[] | undefined },
  choices: ResultsChoices,
): ResultsAddress {
  const season = Number(one(query.season))
  const crop = one(query.crop)
  return {
    season: choices.seasons.find((year) => year === season) ?? null,
    crop: choices.crops.find(({ taxonKey }) => taxonKey === crop)?.taxonKey ?? null,
  }
}

/** The days and the crop that an address stands for. */
export function resultsFilter({ season, crop }: ResultsAddress): ResultsFilter {
  const day = (year: number, rest: string): CivilDate => civilDate(`${year}-${rest}`)
  return {
    ...(season === null ? {} : { from: day(season, '09-01'), to: day(season + 1, '08-31') }),
    ...(crop === null ? {} : { taxonKey: crop }),
  }
}

/** The address of the page, or of its file. */
export function resultsHref(slug: string, { season, crop }: ResultsAddress, file = ''): string {
  const query = new URLSearchParams()
  if (season !== null) query.set('season', String(season))
  if (crop !== null) query.set('crop', crop)
  const text = query.toString()
  return `/g/${slug}/results${file}${text ? `?${text}` : ''}`
}
