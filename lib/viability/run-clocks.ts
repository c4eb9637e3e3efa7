import { budBreakHour } from '#lib/viability/bud-break-hour.ts'
import { type BudClock, isDormantProfile } from '#lib/viability/bud-clock.ts'
import { budShareAt } from '#lib/viability/bud-share-at.ts'
import { hourSpent } from '#lib/viability/hour-spent.ts'
import type { Packaging } from '#lib/viability/packaging.ts'
import { reserveSharePerDay } from '#lib/viability/reserve-clock.ts'
import type { Scenario } from '#lib/viability/scenarios.ts'
import { type SeenBuds, startAtCut, startWhenSeen } from '#lib/viability/seen-buds.ts'
import { shareSpent } from '#lib/viability/share-spent.ts'
import type { StorageProfile } from '#lib/viability/storage-profiles.ts'
import type { Stretch } from '#lib/viability/stretches.ts'
import { waterLossPerDay } from '#lib/viability/water-clock.ts'

/** The wood of a lot and how it is packed. */
export interface StoredWood {
  readonly profile: StorageProfile
  readonly packaging: Packaging
  /** Share of the way to bud break seen at the cut. */
  readonly budProgress: number
  /** How buds looked later on. */
  readonly seenBuds: readonly SeenBuds[]
}

/** The three clocks of one run: what first runs down, and how far each is at a time. Times in hours since the cut. */
export interface ClockRun {
  readonly end: () => { readonly hour: number; readonly limitedBy: 'reserve' | 'bud-break' | 'water' }
  /** 0 for bud break in wood without dormant buds. */
  readonly usedAt: (hour: number) => {
    readonly reserve: number
    readonly budBreak: number
    readonly water: number
  }
}

/** One run of the model over a history. */
export function runClocks(wood: StoredWood, scenario: Scenario, stretches: readonly Stretch[]): ClockRun {
  const { profile, packaging, budProgress, seenBuds } = wood
  const reservePace = (celsius: number) => reserveSharePerDay(profile, scenario, celsius)
  const waterPace = (celsius: number) => waterLossPerDay(packaging, celsius) / scenario.waterLossLimit
  const buds: BudClock | null = isDormantProfile(profile)
    ? { profile, scenario, progressAtCut: Math.min(1, budProgress + scenario.budMarginAtCut) }
    : null
  // What was seen can bring bud break forward and never puts it off: buds that look tight prove little.
  const starts = buds
    ? [startAtCut(buds, stretches), ...seenBuds.map((seen) => startWhenSeen(buds, stretches, seen))]
    : []
  return {
    end: () => {
      const reserve = hourSpent(stretches, reservePace)
      const water = hourSpent(stretches, waterPace)
      const hour = Math.min(reserve, water)
      const breaks = starts.flatMap((start) => budBreakHour(start, hour) ?? [])
      if (breaks.length > 0) return { hour: Math.min(...breaks), limitedBy: 'bud-break' }
      return { hour, limitedBy: water < reserve ? 'water' : 'reserve' }
    },
    usedAt: (hour) => ({
      reserve: shareSpent(stretches, reservePace, hour),
      budBreak: Math.max(0, ...starts.map((start) => budShareAt(start, hour))),
      water: shareSpent(stretches, waterPace, hour),
    }),
  }
}
