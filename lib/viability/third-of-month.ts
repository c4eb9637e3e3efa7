import { required } from '#lib/kernel/assert.ts'
import { type CivilDate, daysBetween } from '#lib/kernel/civil-date.ts'

const months = [
  'January',
  'February',
  'March',
  'April',
  'May',
  'June',
  'July',
  'August',
  'September',
  'October',
  'November',
  'December',
]

/** Wood that keeps for fewer days than this is spoken of in days. */
const shortLifeDays = 21

/**
 * How a modelled date is spoken: "early", "mid" or "late" and the month. The 1st to the 10th are early, the 11th
 * to the 20th mid, the rest late. The short form cuts the month to three letters, for charts.
 *
 * @example thirdOfMonth(civilDate('2026-03-15')) // 'mid March'
 */
export function thirdOfMonth(date: CivilDate, month: 'long' | 'short' = 'long'): string {
  const day = Number(date.slice(8, 10))
  const third = day <= 10 ? 'early' : day <= 20 ? 'mid' : 'late'
  const name = required(months[Number(date.slice(5, 7)) - 1], 'the name of a month')
  return `${third} ${month === 'long' ? name : name.slice(0, 3)}`
}

function inDays(days: number): string {
  if (days === 0) return 'about today'
  const count = Math.abs(days) === 1 ? 'a day' : `${Math.abs(days)} days`
  return days > 0 ? `about ${count}` : `about ${count} ago`
}

/**
 * How a limit of a window is spoken on a day: in thirds of a month, and for wood that keeps for under three weeks
 * (`livesDays`, from the cut to its likely limit) in days from `today`: "about 5 days", "about 2 days ago".
 */
export function speakLimit(
  limit: CivilDate,
  { today, livesDays, month = 'long' }: { today: CivilDate; livesDays: number; month?: 'long' | 'short' },
): string {
  return livesDays < shortLifeDays ? inDays(daysBetween(today, limit)) : thirdOfMonth(limit, month)
}
