import type { Scenario } from '#lib/viability/scenarios.ts'
import type { StorageProfile } from '#lib/viability/storage-profiles.ts'

/** A profile of wood with dormant buds. */
export type DormantProfile = StorageProfile & {
  readonly chillPortions: number
  readonly forcingHours: number
}

/**
 * Hours at 25 °C that buds need to visible swell: the less, the more chill they have had. It falls exponentially from
 * unchilled buds to those that have all the portions of their group, and no further.
 *
 * The falling exponential is that of Cannell & Smith 1983 (J Appl Ecol 20:951–963) and Landsberg 1974, from memory;
 * its steepness is in the scenario. The chill before the cut is not known and is a share of the requirement.
 */
export function forcingRequirement(
  profile: Pick<DormantProfile, 'chillPortions' | 'forcingHours'>,
  scenario: Pick<Scenario, 'forcingFactor' | 'chillSensitivity' | 'chilledAtCut'>,
  portionsInStorage: number,
): number {
  const chilled = Math.min(1, scenario.chilledAtCut + portionsInStorage / profile.chillPortions)
  return profile.forcingHours * scenario.forcingFactor * Math.exp(scenario.chillSensitivity * (1 - chilled))
}
