import type { Interval } from '#lib/statistics/interval.ts'
import { requireCounts } from '#lib/statistics/require-counts.ts'
import { scoreInterval } from '#lib/statistics/score-interval.ts'

/**
 * Wilson's score interval for a rate, without continuity correction. No trials say nothing: 0 to 1. Throws
 * RangeError for impossible counts and for a level outside 0 to 1.
 *
 * Source: E. B. Wilson 1927, J Am Stat Assoc 22:209–212; method 3 of R. G. Newcombe 1998, Stat Med 17:857–872.
 *
 * @example wilsonInterval(81, 263) // { low: 0.2553, high: 0.3662 }, Newcombe's Table I
 */
export function wilsonInterval(successes: number, trials: number, level = 0.95): Interval {
  requireCounts(successes, trials)
  return scoreInterval(trials === 0 ? 0 : successes / trials, trials, level)
}
