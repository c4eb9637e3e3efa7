import type { StorageHistoryRefusal } from '#lib/viability/storage-history.ts'
import { type ViabilityWindowInput, viabilityWindow } from '#lib/viability/viability-window.ts'
import type { WindowFlag } from '#lib/viability/window-flags.ts'

export interface CutDatesInput
  extends Pick<ViabilityWindowInput, 'profile' | 'packaging' | 'budStage' | 'nearRipeningFruit'> {
  /** When the wood is wanted: the day of the swap, or the day of grafting after it. */
  readonly neededAt: Date
  /** Where it will be kept until then, °C. */
  readonly celsius: number
  /** When the wood can be cut at all, if that is known: from leaf fall to first swell. */
  readonly dormantFrom?: Date
  readonly dormantUntil?: Date
}

/** Any moment of cutting from `from` to `until`, both included, will do. */
export interface CutDateRange {
  readonly from: Date
  readonly until: Date
}

export interface CutDates {
  readonly kind: 'cut-dates'
  /** Wood cut then is good on the day; null when no moment will do. */
  readonly good: CutDateRange | null
  /** At least to be used soon: before its likely limit. Holds `good`. */
  readonly soon: CutDateRange | null
  /** At least to be tested first: before its late limit. Holds `soon`. */
  readonly test: CutDateRange | null
  readonly flags: readonly WindowFlag[]
}

/**
 * Between which dates to cut so that wood kept at one temperature is still good, or at least usable, on a day. Cut too
 * soon, it is past its window; cut too late, it is no longer dormant, which is why the latest date is the end of
 * dormancy where that is given and the day itself otherwise. Impossible input is refused with a reason.
 */
export function cutDatesFor(input: CutDatesInput): CutDates | StorageHistoryRefusal {
  const { neededAt, celsius, dormantFrom, dormantUntil, ...wood } = input
  for (const bound of [dormantFrom, dormantUntil]) {
    if (bound && Number.isNaN(bound.getTime())) return { kind: 'refused', reason: 'not-a-date', stint: null }
  }
  const window = viabilityWindow({ ...wood, cutAt: neededAt, asOf: neededAt, stints: [], keptAt: celsius })
  if (window.kind === 'refused') return window
  const neededMs = neededAt.getTime()
  const range = (limit: Date): CutDateRange | null => {
    // A limit belongs to what comes after it, so that the day itself must lie before the limit.
    const soonestMs = 2 * neededMs - limit.getTime() + 1
    const from = Math.max(soonestMs, dormantFrom?.getTime() ?? -Infinity)
    const until = Math.min(neededMs, dormantUntil?.getTime() ?? Infinity)
    return from <= until ? { from: new Date(from), until: new Date(until) } : null
  }
  return {
    kind: 'cut-dates',
    good: range(window.early.at),
    soon: range(window.likely.at),
    test: range(window.late.at),
    flags: window.flags,
  }
}
