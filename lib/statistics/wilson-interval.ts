import { normalQuantile } from '#lib/statistics/normal-quantile.ts'

/** Limits between which a rate is thought to lie, as shares of 1. */
export interface Interval {
  readonly low: number
  readonly high: number
}

/** Throws RangeError unless `successes` of `trials` can be. */
export function requireCounts(successes: number, trials: number): void {
  const arePossible =
    Number.isSafeInteger(successes) && Number.isSafeInteger(trials) && successes >= 0 && successes <= trials
  if (!arePossible) throw new RangeError(`There cannot be ${successes} successes in ${trials} trials`)
}

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
  if (!(level > 0 && level < 1)) throw new RangeError(`A level lies between 0 and 1, not ${level}`)
  if (trials === 0) return { low: 0, high: 1 }
  const z = normalQuantile((1 + level) / 2)
  const rate = successes / trials
  const zSquaredPerTrial = (z * z) / trials
  const centre = (rate + zSquaredPerTrial / 2) / (1 + zSquaredPerTrial)
  const reach = (z / (1 + zSquaredPerTrial)) * Math.sqrt((rate * (1 - rate) + zSquaredPerTrial / 4) / trials)
  return {
    low: successes === 0 ? 0 : centre - reach,
    high: successes === trials ? 1 : centre + reach,
  }
}
