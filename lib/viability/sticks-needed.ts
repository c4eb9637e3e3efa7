/** So little above the wanted chance is rounding. */
const rounding = 1e-12

/**
 * How many sticks to cut for a wanted chance (0 to 1) that at least one takes, when each takes with the same rate (0 to
 * 1) whatever the others do: the smallest n with 1 − (1 − rate)^n ≥ confidence. Infinity when no number is enough: at
 * rate 0, or for certainty with a rate below 1. Sticks of one lot tend to share their fate, so the true number is
 * rather larger. Throws a RangeError outside 0 to 1.
 *
 * Source: the complement of the binomial probability of no success.
 *
 * @example sticksNeeded(0.6) // 3: three at 60 % leave 6.4 % without any
 */
export function sticksNeeded(rate: number, confidence = 0.9): number {
  for (const share of [rate, confidence]) {
    if (!(share >= 0 && share <= 1)) throw new RangeError(`Not a share between 0 and 1: ${share}`)
  }
  if (confidence === 0) return 0
  if (rate === 1) return 1
  if (rate === 0 || confidence === 1) return Infinity
  const sticks = Math.ceil(Math.log1p(-confidence) / Math.log1p(-rate))
  const chanceOfOneLess = -Math.expm1((sticks - 1) * Math.log1p(-rate))
  return chanceOfOneLess >= confidence - rounding ? sticks - 1 : sticks
}
