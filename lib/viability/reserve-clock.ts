import type { Scenario } from '#lib/viability/scenarios.ts'
import type { StorageProfile } from '#lib/viability/storage-profiles.ts'

/**
 * Share of the stick's food reserve burnt in a day at a constant temperature (°C): Q10^(max(T, floor)/10) / life
 * at 0 °C. The reserve is spent when the shares add up to 1. Below the floor of the group, colder is no better.
 *
 * The exponential response is well supported for woody tissue (Butler & Landsberg 1981; Ceschia et al. 2002);
 * the life at 0 °C, and that a spent reserve is what ends a stick, are conventions. Sensible for −2 to 25 °C.
 */
export function reserveSharePerDay(
  profile: Pick<StorageProfile, 'lifeDaysAt0C' | 'reserveFloorC'>,
  scenario: Pick<Scenario, 'lifeFactor' | 'q10'>,
  celsius: number,
): number {
  const effectiveC = Math.max(celsius, profile.reserveFloorC)
  return scenario.q10 ** (effectiveC / 10) / (profile.lifeDaysAt0C * scenario.lifeFactor)
}
