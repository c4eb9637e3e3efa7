import betaQuantile from '@stdlib/stats-base-dists-beta-quantile'
import type { Interval } from '#lib/statistics/interval.ts'
import { requireCounts } from '#lib/statistics/require-counts.ts'
import { requireLevel } from '#lib/statistics/require-level.ts'

/**
 * The exact interval for a rate: it never covers less than it says, and mostly more. No trials say nothing: 0 to 1.
 * Throws RangeError for impossible counts and for a level outside 0 to 1.
 *
 * Source: C. J. Clopper and E. S. Pearson 1934, Biometrika 26:404–413.
 *
 * @example clopperPearsonInterval(45, 50) // { low: 0.7819, high: 0.9667 }
 */
export function clopperPearsonInterval(successes: number, trials: number, level = 0.95): Interval {
  requireCounts(successes, trials)
  requireLevel(level)
  const tail = (1 - level) / 2
  const failures = trials - successes
  return {
    low: successes === 0 ? 0 : betaQuantile(tail, successes, failures + 1),
    high: failures === 0 ? 1 : betaQuantile(1 - tail, successes + 1, failures),
  }
}
