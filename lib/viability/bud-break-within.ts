import { advanceBuds, type BudClock, type BudState, budShare } from '#lib/viability/bud-clock.ts'
import { forcingRequirement } from '#lib/viability/forcing-requirement.ts'
import { forcingShare } from '#lib/viability/forcing-share.ts'

/**
 * When buds break within a stretch at one temperature (°C), in hours since the cut; null when they do not. The stretch
 * is between two times in hours since the cut, `start` is how the buds stand at its beginning.
 *
 * Warmth adds up evenly and what is needed falls each time a chill portion is made, which is at whole hours. The share
 * of the way never falls, so the hour in which it reaches 1 is found by halving. Before the time at which buds with
 * all their chill would break there is nothing to look for.
 */
export function budBreakWithin(
  clock: BudClock,
  start: BudState,
  celsius: number,
  [from, to]: readonly [number, number],
): number | null {
  if (budShare(clock, start) >= 1) return from
  const { profile, scenario, progressAtCut } = clock
  const pace = forcingShare(celsius, profile.forcingBaseC)
  /** With as much chill as this and no more; Infinity when the buds stand still short of what they need. */
  const breakWith = (portions: number): number => {
    const needed = (1 - progressAtCut) * forcingRequirement(profile, scenario, portions)
    return needed <= start.forcedHours ? from : from + (needed - start.forcedHours) / pace
  }
  const soonest = breakWith(Infinity)
  if (soonest > to) return null
  let before = Math.max(Math.floor(from), Math.floor(soonest))
  let state = advanceBuds(clock, start, celsius, [from, before])
  let after = Math.floor(to)
  const end = advanceBuds(clock, state, celsius, [before, after])
  if (budShare(clock, end) < 1) {
    const hour = breakWith(end.portions)
    return hour <= to ? hour : null
  }
  while (after - before > 1) {
    const middle = Math.floor((before + after) / 2)
    const reached = advanceBuds(clock, state, celsius, [before, middle])
    if (budShare(clock, reached) >= 1) {
      after = middle
    } else {
      before = middle
      state = reached
    }
  }
  return Math.min(after, breakWith(state.portions))
}
