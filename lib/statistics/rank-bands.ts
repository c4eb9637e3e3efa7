import type { Interval } from '#lib/statistics/interval.ts'

/**
 * Rates in bands instead of places: from the best downwards, everything whose range overlaps that of the best of its band
 * shares the band, and the next one below begins another. The band of each rate in the order given, 1 for the best. A
 * single band says that there is no clear difference.
 *
 * @example bands of 0.89 (0.79–0.96), 0.92 (0.77–0.99) and 0.51 (0.39–0.63) are 1, 1 and 2
 */
export function rankBands(rates: readonly (Interval & { readonly mean: number })[]): number[] {
  const falling = rates.map((rate, place) => ({ ...rate, place })).sort((a, b) => b.mean - a.mean)
  const bands = new Array<number>(rates.length)
  let band = 0
  let floor = Infinity
  for (const { low, high, place } of falling) {
    if (high < floor) {
      band++
      floor = low
    }
    bands[place] = band
  }
  return bands
}
