import { advanceChill, type ChillState } from '#lib/viability/advance-chill.ts'
import { type DormantProfile, forcingRequirement } from '#lib/viability/forcing-requirement.ts'
import { forcingShare } from '#lib/viability/forcing-share.ts'
import type { Scenario } from '#lib/viability/scenarios.ts'
import type { StorageProfile } from '#lib/viability/storage-profiles.ts'

/** What drives buds in one run. */
export interface BudClock {
  readonly profile: DormantProfile
  readonly scenario: Scenario
  /** Share of the way to bud break already gone when the wood was cut, or when somebody looked at it. */
  readonly progressAtCut: number
}

/** Where buds stand: chilling, and the hours at 25 °C that their warmth since then amounts to. */
export interface BudState extends ChillState {
  readonly forcedHours: number
}

export const budsAtCut: BudState = { portions: 0, intermediate: 0, forcedHours: 0 }

/**
 * Chilling is reckoned at no less and no more than this, °C. Below, the Dynamic Model is stretched; above, it takes
 * chill away, and wood that has been warm would be said to keep longer for it. A convention of this program.
 */
const chillRangeC = { low: -2, high: 10 }

export const isDormantProfile = (profile: StorageProfile): profile is DormantProfile =>
  profile.chillPortions !== null && profile.forcingHours !== null

/** Share of the way to bud break: 1 is visible swell. */
export const budShare = (
  { profile, scenario, progressAtCut }: BudClock,
  { portions, forcedHours }: BudState,
): number => progressAtCut + forcedHours / forcingRequirement(profile, scenario, portions)

/**
 * Buds after a stretch at one temperature (°C), between two times in hours since the cut. Chilling goes by whole hours
 * from the cut, each at the temperature it ends in, so that a stretch cut in two gives the same. Once the group has
 * all its chill, more makes no difference and is not reckoned.
 */
export function advanceBuds(
  { profile, scenario }: BudClock,
  state: BudState,
  celsius: number,
  [from, to]: readonly [number, number],
): BudState {
  const forcedHours = state.forcedHours + (to - from) * forcingShare(celsius, profile.forcingBaseC)
  const isChilled = scenario.chilledAtCut + state.portions / profile.chillPortions >= 1
  if (isChilled) return { ...state, forcedHours }
  const chillC = Math.min(Math.max(celsius, chillRangeC.low), chillRangeC.high)
  const { portions, intermediate } = advanceChill(state, chillC, Math.floor(to) - Math.floor(from))
  return { portions, intermediate, forcedHours }
}
