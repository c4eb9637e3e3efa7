import { requireCounts } from '#lib/statistics/require-counts.ts'
import { wilsonInterval } from '#lib/statistics/wilson-interval.ts'

/** How many of how many. */
export interface Proportion {
  readonly successes: number
  readonly trials: number
}

/** The rate of the first minus the rate of the second, with limits, as shares of 1. */
export interface ProportionDifference {
  readonly difference: number
  readonly low: number
  readonly high: number
}

/**
 * The difference of two independent rates, with limits squared and added from the two Wilson intervals. Throws
 * RangeError for impossible counts and when either side has no trials.
 *
 * Source: R. G. Newcombe 1998, Stat Med 17:873–890, method 10 (no continuity correction).
 *
 * @example newcombeDifference({ successes: 56, trials: 70 }, { successes: 48, trials: 80 })
 * // { difference: 0.2, low: 0.0524, high: 0.3339 }, row (a) of the paper's Table II
 */
export function newcombeDifference(a: Proportion, b: Proportion, level = 0.95): ProportionDifference {
  requireCounts(a.successes, a.trials)
  requireCounts(b.successes, b.trials)
  if (a.trials === 0 || b.trials === 0) throw new RangeError('A rate needs at least one trial')
  const rateA = a.successes / a.trials
  const rateB = b.successes / b.trials
  const limitsA = wilsonInterval(a.successes, a.trials, level)
  const limitsB = wilsonInterval(b.successes, b.trials, level)
  const difference = rateA - rateB
  return {
    difference,
    low: difference - Math.hypot(rateA - limitsA.low, limitsB.high - rateB),
    high: difference + Math.hypot(limitsA.high - rateA, rateB - limitsB.low),
  }
}
