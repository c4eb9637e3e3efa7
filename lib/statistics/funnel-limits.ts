import type { Interval } from '#lib/statistics/interval.ts'
import { normalQuantile } from '#lib/statistics/normal-quantile.ts'
import { requireLevel } from '#lib/statistics/require-level.ts'

/**
 * Between which rates a unit of so many trials is expected when it is like all others: the rates whose Wilson interval
 * still holds the common rate, within 0 and 1. Batches make units differ more than that: give the effective number of
 * trials. Throws RangeError for what is no rate, no trials, or a level outside 0 to 1.
 *
 * Source: the score limits of D. J. Spiegelhalter 2005, Stat Med 24:1185–1202 (from memory).
 */
export function funnelLimits(commonRate: number, trials: number, level = 0.95): Interval {
  if (!(commonRate >= 0 && commonRate <= 1))
    throw new RangeError(`A rate lies between 0 and 1, not ${commonRate}`)
  if (!(trials > 0)) throw new RangeError(`Not a number of trials: ${trials}`)
  requireLevel(level)
  const reach = normalQuantile((1 + level) / 2) * Math.sqrt((commonRate * (1 - commonRate)) / trials)
  return { low: Math.max(0, commonRate - reach), high: Math.min(1, commonRate + reach) }
}
