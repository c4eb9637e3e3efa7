import { counted, type TemperatureUnit, temperature } from '#app/_ui/measures.ts'
import { type CivilDate, daysBetween } from '#lib/kernel/civil-date.ts'
import type { Lengthening } from '#lib/viability/longer-when-colder.ts'
import { speakLimit } from '#lib/viability/third-of-month.ts'
import type { KeptWindow } from '#lib/wood/window-of-lot.ts'

interface SaidOn {
  readonly cut: CivilDate
  readonly today: CivilDate
}

/** Under this many days from cut to likely limit, limits are spoken in days. */
const shortLifeDays = 21

const livesDays = (cut: CivilDate, window: KeptWindow) => daysBetween(cut, window.likely)

/** Whether wood keeps for days rather than for months. */
export const isShortLived = (cut: CivilDate, window: KeptWindow): boolean =>
  livesDays(cut, window) < shortLifeDays

/** A limit of a window: "mid March", or "about 5 days" for wood that keeps for under three weeks. */
export const sayLimit = (
  limit: CivilDate,
  window: KeptWindow,
  { cut, today }: SaidOn,
  month: 'long' | 'short' = 'long',
): string => speakLimit(limit, { today, livesDays: livesDays(cut, window), month })

/** The sentence after the state word at the head of a lot. */
export function sayStanding(window: KeptWindow, on: SaidOn): string {
  if (window.flags.includes('buds-open-at-cut'))
    return 'Its buds were open when it was cut: use it within days.'
  const said = (limit: CivilDate) => sayLimit(limit, window, on)
  const isShort = livesDays(on.cut, window) < shortLifeDays
  const until = isShort ? 'for' : 'until about'
  const to = isShort ? 'for' : 'to'
  switch (window.state) {
    case 'good':
      return `${until} ${said(window.early)}; likely to keep ${to} ${said(window.likely)}.`
    case 'soon':
      return `Past its early limit; likely to keep ${to} ${said(window.likely)}.`
    case 'test':
      return 'Past its likely limit. Nick the bark and look for green before you use it.'
    case 'past':
      return 'Past every limit of its window. It need not be dead: nick the bark and look for green.'
  }
}

/** The limits in a row: "good to mid March, likely to early June, at most to mid September". */
export function sayLimits(window: KeptWindow, on: SaidOn): string {
  const said = (limit: CivilDate) => sayLimit(limit, window, on)
  if (livesDays(on.cut, window) < shortLifeDays) {
    const isOver = window.state === 'test' || window.state === 'past'
    return isOver ? 'past its likely limit' : `likely to keep for ${said(window.likely)}`
  }
  return `good to ${said(window.early)}, likely to ${said(window.likely)}, at most to ${said(window.late)}`
}

/** "Good to mid Mar, likely to early Jun.", for a label. */
export function sayForLabel(window: KeptWindow, on: SaidOn): string {
  if (livesDays(on.cut, window) < shortLifeDays) return 'Keeps for days only: use it at once.'
  const said = (limit: CivilDate) => sayLimit(limit, window, on, 'short')
  return `Good to ${said(window.early)}, likely to ${said(window.likely)}.`
}

/** How far a limit moves, in words: days under three weeks, weeks above. */
const moreTime = (days: number): string =>
  days < shortLifeDays ? counted(days, 'day') : counted(Math.round(days / 7), 'week')

/** "2 °C colder, at 2 °C, adds about 5 weeks." */
export function sayLengthening({ colderBy, celsius, days }: Lengthening, unit: TemperatureUnit): string {
  const step = unit === 'F' ? `${Math.round(colderBy * 1.8)} °F` : `${colderBy} °C`
  return `${step} colder, at ${temperature(celsius, unit)}, adds about ${moreTime(days)}.`
}

const reasons: Readonly<Record<string, string>> = {
  'rooted-plants': 'Rooted plants are not stored wood, so no window is worked out for them.',
  'cut-in-future': 'The day of cutting lies ahead.',
}

/** Why there is no window. */
export const sayNoWindow = (why: string): string =>
  reasons[why] ?? 'The storage record of this lot does not hold together, so no window is worked out.'
