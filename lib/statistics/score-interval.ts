import type { Interval } from '#lib/statistics/interval.ts'
import { normalQuantile } from '#lib/statistics/normal-quantile.ts'
import { requireLevel } from '#lib/statistics/require-level.ts'

/**
 * Wilson's interval for a rate (0 to 1) seen in so many trials, which need not be whole: the effective number of a
 * sample in batches is not. No trials say nothing: 0 to 1. Throws RangeError for what is no rate, number of trials or
 * level.
 *
 * Source: E. B. Wilson 1927, J Am Stat Assoc 22:209–212.
 */
export function scoreInterval(rate: number, trials: number, level = 0.95): Interval {
  if (!(rate >= 0 && rate <= 1)) throw new RangeError(`A rate lies between 0 and 1, not ${rate}`)
  if (!(trials >= 0 && trials < Infinity)) throw new RangeError(`Not a number of trials: ${trials}`)
  requireLevel(level)
  if (trials === 0) return { low: 0, high: 1 }
  const z = normalQuantile((1 + level) / 2)
  const zSquaredPerTrial = (z * z) / trials
  const centre = (rate + zSquaredPerTrial / 2) / (1 + zSquaredPerTrial)
  const reach = (z / (1 + zSquaredPerTrial)) * Math.sqrt((rate * (1 - rate) + zSquaredPerTrial / 4) / trials)
  return { low: rate === 0 ? 0 : centre - reach, high: rate === 1 ? 1 : centre + reach }
}
