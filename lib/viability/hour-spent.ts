import type { Stretch } from '#lib/viability/stretches.ts'

/**
 * When a clock that runs at a pace set by the temperature alone has run down, in hours since the cut. `pacePerDay` is
 * the share of the clock gone in a day. Throws if the history ends or the clock stands still for ever.
 */
export function hourSpent(stretches: readonly Stretch[], pacePerDay: (celsius: number) => number): number {
  let left = 1
  for (const { from, to, celsius } of stretches) {
    const pace = pacePerDay(celsius) / 24
    if (pace > 0 && left <= pace * (to - from)) return from + left / pace
    left -= pace * (to - from)
  }
  throw new Error('The history of a lot ended before its wood did')
}
