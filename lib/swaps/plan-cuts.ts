import { type CivilDate, civilDate } from '#lib/kernel/civil-date.ts'
import { cutDatesFor } from '#lib/viability/latest-cut-date.ts'
import { type StorageProfile, storageProfileFor } from '#lib/viability/storage-profiles.ts'
import { type WarmestStorage, warmestStorageFor } from '#lib/viability/warmest-storage.ts'
import { type CutDays, cutDays } from '#lib/wood/cut-days.ts'
import type { DayClock } from '#lib/wood/day-clock.ts'

/** A kind of fruit that a group could cut. */
export interface CropToCut {
  readonly taxonKey: string
  readonly commonName: string
  readonly storageProfile: string
  /** Limbs that stand, and the varieties on them. */
  readonly limbs: number
  readonly varieties: number
}

export interface CutPlanWish {
  /** The day of the swap. */
  readonly heldOn: CivilDate
  /** Where the wood is kept until then, °C. */
  readonly celsius: number
  /** When dormant wood can be cut, if that is known. */
  readonly dormantFrom?: CivilDate | undefined
  readonly dormantUntil?: CivilDate | undefined
}

export interface CropPlan extends CropToCut {
  readonly profile: StorageProfile
  /** Wood cut then is good on the day of the swap; null when no day will do. */
  readonly good: CutDays | null
  /** Wood cut then is at least to be used soon. Holds `good`. */
  readonly usable: CutDays | null
  /** Where no day will do: the steady temperature at which wood cut on the last possible day is good still. */
  readonly needs: WarmestStorage | null
  /** Evergreen wood is hurt by a store as cold as that. */
  readonly isTooCold: boolean
}

export type CutPlanRefusal = { readonly kind: 'refused'; readonly reason: 'absurd-temperature' }

/**
 * When dormant wood is usually cut for a swap: from the first of December before a swap of winter or spring, and not
 * bounded for any other. Common practice of the north, no source; a group sets its own days.
 */
export function usualDormancy(heldOn: CivilDate): CivilDate | undefined {
  const [year, month] = [Number(heldOn.slice(0, 4)), Number(heldOn.slice(5, 7))]
  if (month === 12) return civilDate(`${year}-12-01`)
  return month <= 5 ? civilDate(`${year - 1}-12-01`) : undefined
}

const earliest = (a: CivilDate, b: CivilDate) => (a < b ? a : b)

function planOf(crop: CropToCut, wish: CutPlanWish, clock: DayClock): CropPlan | CutPlanRefusal {
  const { profile } = storageProfileFor(crop.storageProfile)
  const { heldOn, celsius } = wish
  // Evergreen wood is not dormant; it is cut when it is wanted.
  const { dormantFrom, dormantUntil } = profile.evergreen ? {} : wish
  const wood = { profile, packaging: 'sealed_damp', neededAt: clock.noon(heldOn) } as const
  const dates = cutDatesFor({
    ...wood,
    celsius,
    ...(dormantFrom && { dormantFrom: clock.noon(dormantFrom) }),
    ...(dormantUntil && { dormantUntil: clock.noon(dormantUntil) }),
  })
  if (dates.kind === 'refused') return { kind: 'refused', reason: 'absurd-temperature' }
  const good = cutDays(dates.good, clock)
  const last = earliest(heldOn, dormantUntil ?? heldOn)
  const needs = good ? null : warmestStorageFor({ ...wood, cutAt: clock.noon(last) })
  return {
    ...crop,
    profile,
    good,
    usable: cutDays(dates.soon, clock),
    needs: needs?.kind === 'refused' ? null : needs,
    isTooCold: dates.flags.includes('too-cold-for-evergreen'),
  }
}

/**
 * For each crop, between which days to cut so that the wood is still good on the day of a swap, packed damp in a sealed
 * bag and kept at one temperature. Those that have to be cut soonest before their last day come first. Refuses a
 * temperature at which no wood is kept.
 */
export function planCuts(
  crops: readonly CropToCut[],
  wish: CutPlanWish,
  clock: DayClock,
): readonly CropPlan[] | CutPlanRefusal {
  const plans: CropPlan[] = []
  for (const crop of crops) {
    const plan = planOf(crop, wish, clock)
    if ('kind' in plan) return plan
    plans.push(plan)
  }
  const from = ({ good }: CropPlan) => good?.from ?? ''
  return plans.sort(
    (a, b) => from(b).localeCompare(from(a)) || a.commonName.localeCompare(b.commonName, 'en'),
  )
}
