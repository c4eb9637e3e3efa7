import { type CivilDate, daysBetween } from '#lib/kernel/civil-date.ts'
import { speakLimit, thirdOfMonth } from '#lib/viability/third-of-month.ts'
import type { LimitingClock } from '#lib/viability/viability-window.ts'

/** When wood stops being good, is likely at its limit, and is past: an envelope, never a percentage. */
export interface KeepingWindow {
  readonly early: CivilDate
  readonly likely: CivilDate
  readonly late: CivilDate
  /** Which clock sets the likely limit. */
  readonly limitedBy: LimitingClock
}

/** A clock as it is named in a sentence. */
export const clockWords: Record<LimitingClock, string> = {
  reserve: 'food reserve',
  'bud-break': 'bud break',
  water: 'drying out',
  freeze: 'a freeze',
  chilling: 'harm from cold',
}

/** Further off than this a limit is spoken of by its place in a month, however short the wood lives. */
const mostDaysSpoken = 20

/** A limit of a window for a chart: "mid Mar", or in days from today for wood that keeps under three weeks. */
export function limitWords(
  limit: CivilDate,
  { cut, window, today }: { cut: CivilDate; window: KeepingWindow; today: CivilDate },
): string {
  if (Math.abs(daysBetween(today, limit)) > mostDaysSpoken) return thirdOfMonth(limit, 'short')
  return speakLimit(limit, { today, livesDays: daysBetween(cut, window.likely), month: 'short' })
}
