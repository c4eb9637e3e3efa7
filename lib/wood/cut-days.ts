import { addDays, type CivilDate } from '#lib/kernel/civil-date.ts'
import type { CutDateRange } from '#lib/viability/latest-cut-date.ts'
import type { DayClock } from '#lib/wood/day-clock.ts'

/** Days between which to cut, both included. */
export interface CutDays {
  readonly from: CivilDate
  readonly until: CivilDate
}

/** The days at whose noon wood can be cut; null when there is no such noon. */
export function cutDays(range: CutDateRange | null, clock: DayClock): CutDays | null {
  if (!range) return null
  const first = clock.dayOf(range.from)
  const last = clock.dayOf(range.until)
  const from = clock.noon(first) < range.from ? addDays(first, 1) : first
  const until = clock.noon(last) > range.until ? addDays(last, -1) : last
  return from <= until ? { from, until } : null
}
