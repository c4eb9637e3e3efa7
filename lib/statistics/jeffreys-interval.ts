import betaQuantile from '@stdlib/stats-base-dists-beta-quantile'
import type { Interval } from '#lib/statistics/interval.ts'
import { requireCounts } from '#lib/statistics/require-counts.ts'
import { requireLevel } from '#lib/statistics/require-level.ts'

/**
 * The interval for a rate from Jeffreys' prior, Beta(½, ½); 0 when nothing took and 1 when everything did. No trials
 * say nothing: 0 to 1. Throws RangeError for impossible counts and for a level outside 0 to 1.
 *
 * Source: L. D. Brown, T. T. Cai and A. DasGupta 2001, Statist Sci 16:101–133, section 3.1 (from memory).
 *
 * @example jeffreysInterval(45, 50) // { low: 0.7946, high: 0.9608 }
 */
export function jeffreysInterval(successes: number, trials: number, level = 0.95): Interval {
  requireCounts(successes, trials)
  requireLevel(level)
  const tail = (1 - level) / 2
  const failures = trials - successes
  return {
    low: successes === 0 ? 0 : betaQuantile(tail, successes + 0.5, failures + 0.5),
    high: failures === 0 ? 1 : betaQuantile(1 - tail, successes + 0.5, failures + 0.5),
  }
}
