import { required } from '#lib/kernel/assert.ts'
import type { CelsiusRange } from '#lib/viability/scenarios.ts'
import type { StorageStint, TemperatureBasis } from '#lib/viability/storage-history.ts'
import type { StorageProfile } from '#lib/viability/storage-profiles.ts'
import {
  type ViabilityWindow,
  type ViabilityWindowInput,
  viabilityWindow,
} from '#lib/viability/viability-window.ts'

/** Noon of the day on which the wood of these tests is cut. */
export const cutAt = new Date('2026-01-10T12:00:00Z')

export const dayMs = 86_400_000
export const afterDays = (days: number): Date => new Date(cutAt.getTime() + days * dayMs)
export const daysFromCut = (instant: Date): number => (instant.getTime() - cutAt.getTime()) / dayMs

export const steady = (celsius: number): CelsiusRange => ({ low: celsius, mid: celsius, high: celsius })

/** A stay from one day after the cut to another; null while it goes on. */
export const stint = (
  fromDay: number,
  toDay: number | null,
  celsius: number | CelsiusRange,
  basis: TemperatureBasis = 'typed',
): StorageStint => ({
  from: afterDays(fromDay),
  to: toDay === null ? null : afterDays(toDay),
  celsius: typeof celsius === 'number' ? steady(celsius) : celsius,
  basis,
})

/** The window of a history that is not refused. */
export function windowOf(
  profile: StorageProfile,
  stints: readonly StorageStint[],
  more: Partial<Omit<ViabilityWindowInput, 'profile' | 'stints'>> = {},
): ViabilityWindow {
  const answer = viabilityWindow({ profile, cutAt, stints, asOf: cutAt, ...more })
  return required(answer.kind === 'window' ? answer : null, `a window, not ${JSON.stringify(answer)}`)
}

export const daysOf = ({ early, likely, late }: ViabilityWindow) => ({
  early: daysFromCut(early.at),
  likely: daysFromCut(likely.at),
  late: daysFromCut(late.at),
})
