import type { Stretch } from '#lib/viability/stretches.ts'

/**
 * How much of a clock is gone at an hour since the cut, as a share; above 1 once it has run down. `pacePerDay` is the
 * share of the clock gone in a day at a temperature.
 */
export const shareSpent = (
  stretches: readonly Stretch[],
  pacePerDay: (celsius: number) => number,
  hour: number,
): number =>
  stretches.reduce(
    (sum, { from, to, celsius }) =>
      from < hour ? sum + (pacePerDay(celsius) / 24) * (Math.min(to, hour) - from) : sum,
    0,
  )
