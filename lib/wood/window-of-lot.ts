import type { CivilDate } from '#lib/kernel/civil-date.ts'
import type { LotKind, Packaging } from '#lib/platform/generated/enums.ts'
import type { StorageHistoryRefusal, StorageStint, TemperatureBasis } from '#lib/viability/storage-history.ts'
import { type StorageProfile, storageProfileFor } from '#lib/viability/storage-profiles.ts'
import { type LimitingClock, type ViabilityWindow, viabilityWindow } from '#lib/viability/viability-window.ts'
import { type WindowState, windowState } from '#lib/viability/window-state.ts'
import type { DayClock } from '#lib/wood/day-clock.ts'
import { type DayOfReadings, type StayInStore, temperatureOfStay } from '#lib/wood/temperature-of-stay.ts'

/** How long a lot keeps, in days of the group's calendar. An envelope, never a percentage. */
export interface LotWindow {
  readonly kind: 'window'
  readonly early: CivilDate
  readonly likely: CivilDate
  readonly late: CivilDate
  /** Which clock sets the likely limit. */
  readonly limitedBy: LimitingClock
  /** Where the lot stands today; the day of a limit belongs to what comes after it. */
  readonly state: WindowState
  /** Share of each clock gone in the likely run; above 1 once it has run out. */
  readonly used: ViabilityWindow['used']
  readonly flags: ViabilityWindow['flags']
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
  readonly stays: readonly StayInStore[]
}

export interface KeepingAsOf {
  readonly clock: DayClock
  readonly readings: readonly DayOfReadings[]
  readonly now: Date
}

/** The profile of a lot. Wood cut in leaf keeps for days whatever it is, unless its plant is evergreen. */
function profileOf(lot: LotToKeep): StorageProfile {
  const { profile } = storageProfileFor(lot.storageProfile ?? '')
  return lot.kind === 'budwood' && !profile.evergreen ? storageProfileFor('summer_budwood').profile : profile
}

const laterOf = (a: Date, b: Date) => new Date(Math.max(a.getTime(), b.getTime()))

/** A lot as the model wants it, with what is known of the temperature of each stay. */
function historyOf(lot: LotToKeep, { clock, readings, now }: KeepingAsOf) {
  const cutAt = clock.noon(lot.cutOn)
  // Wood cut this morning is recorded before its noon.
  const asOf = laterOf(now, cutAt)
  const stints = lot.stays.map((stay): StorageStint => {
    const from = laterOf(stay.from, cutAt)
    const to = stay.to && laterOf(stay.to, from)
    return { from, to, ...temperatureOfStay({ ...stay, from, to }, readings, asOf) }
  })
  const { packaging, budStage } = lot
  const profile = profileOf(lot)
  return {
    profile,
    cutAt,
    asOf,
    stints,
    ...(packaging && { packaging }),
    ...(budStage !== undefined && { budStage }),
  }
}

const inDays = (clock: DayClock, window: ViabilityWindow) => ({
  early: clock.dayOf(window.early.at),
  likely: clock.dayOf(window.likely.at),
  late: clock.dayOf(window.late.at),
})

/**
 * How long one lot keeps, from its cut and everywhere it has been since. The list and the lot's own page both read
 * it here. A convention fitted to sparse trials: pages say so, and that wood is looked at before it is used or
 * thrown away.
 */
export function windowOfLot(lot: LotToKeep, asOf: KeepingAsOf): LotWindow | NoWindow {
  if (lot.kind === 'rooted_plants') return { kind: 'none', why: 'rooted-plants' }
  const history = historyOf(lot, asOf)
  const window = viabilityWindow(history)
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
    bases: history.stints.map(({ basis }) => basis),
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
  const history = historyOf(lot, asOf)
  const length = ({ from, to }: StorageStint) => (to ?? history.asOf).getTime() - from.getTime()
  const unmeasured = history.stints
    .map((stint, stay) => ({ stint, stay }))
    .filter(({ stint }) => stint.basis === 'assumed')
    .sort((a, b) => length(b.stint) - length(a.stint))[0]
  if (!unmeasured) return null
  const celsius = unmeasured.stint.celsius.mid
  const stints = history.stints.map(
    (stint): StorageStint =>
      stint === unmeasured.stint
        ? { ...stint, celsius: { low: celsius, mid: celsius, high: celsius }, basis: 'typed' }
        : stint,
  )
  const window = viabilityWindow({ ...history, stints })
  if (window.kind === 'refused') return null
  const { early, late } = inDays(asOf.clock, window)
  return { stay: unmeasured.stay, celsius, early, late }
}
