import type { CivilDate } from '#lib/kernel/civil-date.ts'
import type { LotKind, Packaging } from '#lib/platform/generated/enums.ts'
import { assumedCelsius } from '#lib/viability/assumed-celsius.ts'
import { type Lengthening, longerWhenColder } from '#lib/viability/longer-when-colder.ts'
import type { StorageHistoryRefusal, TemperatureBasis } from '#lib/viability/storage-history.ts'
import { type StorageProfile, storageProfileFor } from '#lib/viability/storage-profiles.ts'
import {
  type LimitingClock,
  type ViabilityWindow,
  type ViabilityWindowInput,
  viabilityWindow,
} from '#lib/viability/viability-window.ts'
import { type WindowState, windowState } from '#lib/viability/window-state.ts'
import type { DayClock } from '#lib/wood/day-clock.ts'
import type { ObservedBuds } from '#lib/wood/inspections.ts'
import type { ReadingsByStore } from '#lib/wood/reading-hours.ts'
import type { StayInStore } from '#lib/wood/stay-in-store.ts'
import { stintsOfStay, temperatureOfStay } from '#lib/wood/temperature-of-stay.ts'

/** How long a lot keeps, in days of the group's calendar. An envelope, never a percentage. */
export interface KeptWindow {
  readonly kind: 'window'
  readonly early: CivilDate
  readonly likely: CivilDate
  readonly late: CivilDate
  /** Which clock sets the likely limit. */
  readonly limitedBy: LimitingClock
  /** Where the lot stands today; the day of a limit belongs to what comes after it. */
  readonly state: WindowState
  readonly flags: ViabilityWindow['flags']
}

/** A window with what it rests on. */
export interface LotWindow extends KeptWindow {
  /** Share of each clock gone in the likely run; above 1 once it has run out. */
  readonly used: ViabilityWindow['used']
  readonly evidence: ViabilityWindow['evidence']
  /** How the temperature of each stay is known, in the order of the stays. */
  readonly bases: readonly TemperatureBasis[]
}

/** Why a lot has no window. */
export interface NoWindow {
  readonly kind: 'none'
  readonly why: 'rooted-plants' | StorageHistoryRefusal['reason']
}

export interface LotToKeep {
  readonly kind: LotKind
  readonly cutOn: CivilDate
  /** The storage profile of the taxon; null for wood whose variety nobody knows. */
  readonly storageProfile: string | null
  /** Left out where it is not known; the window then says so. */
  readonly packaging?: Packaging
  /** BBCH stage of the buds at the cut. */
  readonly budStage?: number
  /** How the buds looked since, at each look that still stands. */
  readonly observedBuds?: readonly ObservedBuds[]
  readonly stays: readonly StayInStore[]
}

export interface KeepingAsOf {
  readonly clock: DayClock
  readonly readings: ReadingsByStore
  readonly now: Date
}

/** The profile of a lot. Wood cut in leaf keeps for days whatever it is, unless its plant is evergreen. */
export function profileOf(lot: Pick<LotToKeep, 'kind' | 'storageProfile'>): StorageProfile {
  const { profile } = storageProfileFor(lot.storageProfile ?? '')
  return lot.kind === 'budwood' && !profile.evergreen ? storageProfileFor('summer_budwood').profile : profile
}

const laterOf = (a: Date, b: Date) => new Date(Math.max(a.getTime(), b.getTime()))

/** Where a lot has been, from its cut on: a stay is recorded by its day, which may begin before the cut of that day. */
function staysSince(cutAt: Date, stays: readonly StayInStore[]): StayInStore[] {
  return stays.map((stay) => {
    const from = laterOf(stay.from, cutAt)
    return { ...stay, from, to: stay.to && laterOf(stay.to, from) }
  })
}

/** A lot as the model wants it, with what is known of the temperature of each stay. */
export function historyOfLot(lot: LotToKeep, { clock, readings, now }: KeepingAsOf) {
  const cutAt = clock.noon(lot.cutOn)
  const stays = staysSince(cutAt, lot.stays)
  const readIn = ({ storeId }: StayInStore) => readings.get(storeId) ?? []
  const { packaging, budStage, observedBuds } = lot
  return {
    stays,
    bases: stays.map((stay) => temperatureOfStay(stay, readIn(stay)).basis),
    input: {
      profile: profileOf(lot),
      cutAt,
      // Wood cut this morning is recorded before its noon.
      asOf: laterOf(now, cutAt),
      stints: stays.flatMap((stay) => stintsOfStay(stay, readIn(stay))),
      ...(packaging && { packaging }),
      ...(budStage !== undefined && { budStage }),
      ...(observedBuds && { observedBuds }),
    } satisfies ViabilityWindowInput,
  }
}

const inDays = (clock: DayClock, window: ViabilityWindow) => ({
  early: clock.dayOf(window.early.at),
  likely: clock.dayOf(window.likely.at),
  late: clock.dayOf(window.late.at),
})

/**
 * How long one lot keeps, from its cut and everywhere it has been since. What is stored of a window and the lot's own
 * page both come from here. A convention fitted to sparse trials: pages say so, and that wood is looked at before it
 * is used or thrown away.
 */
export function windowOfLot(lot: LotToKeep, asOf: KeepingAsOf): LotWindow | NoWindow {
  if (lot.kind === 'rooted_plants') return { kind: 'none', why: 'rooted-plants' }
  const { input, bases } = historyOfLot(lot, asOf)
  const window = viabilityWindow(input)
  if (window.kind === 'refused') return { kind: 'none', why: window.reason }
  const { clock } = asOf
  const days = inDays(clock, window)
  return {
    kind: 'window',
    ...days,
    limitedBy: window.likely.limitedBy,
    state: windowState(days, clock.dayOf(asOf.now)),
    used: window.used,
    flags: window.flags,
    evidence: window.evidence,
    bases,
  }
}

/** What one reading would change. */
export interface Narrowing {
  /** The stay that nobody measured, by its place in the record. */
  readonly stay: number
  /** The temperature tried, °C: the middle of what is assumed. */
  readonly celsius: number
  readonly early: CivilDate
  readonly late: CivilDate
}

/**
 * What a reading of the longest unmeasured stay would make of the window, if it showed the middle of the range
 * that is assumed; null when every stay is measured.
 */
export function narrowingOfLot(lot: LotToKeep, asOf: KeepingAsOf): Narrowing | null {
  if (lot.kind === 'rooted_plants') return null
  const { stays, bases, input } = historyOfLot(lot, asOf)
  const length = ({ from, to }: StayInStore) => (to ?? input.asOf).getTime() - from.getTime()
  const [unmeasured] = [...stays.entries()]
    .filter(([at]) => bases[at] === 'assumed')
    .sort(([, a], [, b]) => length(b) - length(a))
  if (!unmeasured) return null
  const [stay, unread] = unmeasured
  const celsius = assumedCelsius(unread.storeKind, null).mid
  const measured = { ...lot, stays: stays.with(stay, { ...unread, typedCelsius: celsius }) }
  const window = viabilityWindow(historyOfLot(measured, asOf).input)
  if (window.kind === 'refused') return null
  const { early, late } = inDays(asOf.clock, window)
  return { stay, celsius, early, late }
}

/** What a store two degrees colder would add to the window of a lot from today on; null when nothing. */
export const lengtheningOfLot = (lot: LotToKeep, asOf: KeepingAsOf): Lengthening | null =>
  lot.kind === 'rooted_plants' ? null : longerWhenColder(historyOfLot(lot, asOf).input)
