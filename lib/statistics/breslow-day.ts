import { chiSquareTail } from '#lib/statistics/chi-square-tail.ts'
import { informativeStrata, type Stratum } from '#lib/statistics/informative-strata.ts'
import { mantelHaenszel } from '#lib/statistics/mantel-haenszel.ts'

export interface BreslowDay {
  readonly chiSquare: number
  readonly df: number
  readonly p: number
  /** With Tarone's correction. */
  readonly tarone: { readonly chiSquare: number; readonly p: number }
}

/** The first cell that a stratum's margins and an odds ratio ask for: the root of a quadratic. */
function expectedCell([[a, b], [c, d]]: Stratum, oddsRatio: number): number {
  const [first, took, second] = [a + b, a + c, c + d]
  const quadratic = 1 - oddsRatio
  const linear = second - took + oddsRatio * (first + took)
  const constant = -oddsRatio * first * took
  if (Math.abs(quadratic) < 1e-12) return -constant / linear
  const root = Math.sqrt(linear * linear - 4 * quadratic * constant)
  // This form of the root loses no digits, and is the one between the margins' limits.
  return (-2 * constant) / (linear + root)
}

/**
 * Whether an odds ratio is the same in every stratum; a large χ² says that it seems not to be. It takes every trial as
 * a fact of its own, so batches make it cry out too often. Null when fewer than two strata tell anything, or the common
 * odds ratio is 0 or infinite. Throws RangeError for what are no counts.
 *
 * Sources: N. E. Breslow and N. E. Day 1980, Statistical Methods in Cancer Research 1:142; R. E. Tarone 1985,
 * Biometrika 72:91–95 (both from memory, checked against R).
 */
export function breslowDay(strata: readonly Stratum[]): BreslowDay | null {
  const telling = informativeStrata(strata).filter(([[a, b], [c, d]]) => a + c > 0 && b + d > 0)
  const oddsRatio = mantelHaenszel(telling)?.oddsRatio ?? 0
  if (telling.length < 2 || oddsRatio === 0 || oddsRatio === Infinity) return null
  let chiSquare = 0
  let surplus = 0
  let spread = 0
  for (const stratum of telling) {
    const [[a, b], [c, d]] = stratum
    const expected = expectedCell(stratum, oddsRatio)
    const rest = [a + b - expected, a + c - expected, d - a + expected]
    const variance = 1 / (1 / expected + rest.reduce((sum, cell) => sum + 1 / cell, 0))
    chiSquare += (a - expected) ** 2 / variance
    surplus += a - expected
    spread += variance
  }
  const df = telling.length - 1
  const corrected = Math.max(0, chiSquare - surplus ** 2 / spread)
  return {
    chiSquare,
    df,
    p: chiSquareTail(chiSquare, df),
    tarone: { chiSquare: corrected, p: chiSquareTail(corrected, df) },
  }
}
