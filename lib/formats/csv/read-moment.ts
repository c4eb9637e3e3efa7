import { type DayOrder, readDay } from '#lib/formats/csv/read-day.ts'
import { type CivilDate, utcMidnight } from '#lib/kernel/civil-date.ts'

/** A moment as a logger writes it. */
export type MomentRead =
  /** With its own zone: an instant. */
  | { readonly kind: 'instant'; readonly ms: number }
  /** What the clock showed, in milliseconds as if it were UTC. */
  | { readonly kind: 'wall'; readonly ms: number }
  | { readonly kind: 'two-ways'; readonly readings: readonly [CivilDate, CivilDate] }
  | { readonly kind: 'no-time' }
  | { readonly kind: 'no-moment' }

const clock = /(\d{1,2})[:.h](\d{2})(?:[:.](\d{2})(?:[.,]\d+)?)?\s*([ap]\.?\s?m\.?)?/i
const zone = /(Z|UTC|GMT|(?:UTC|GMT)?\s*[+-]\d{2}:?\d{2}|[+-]\d{2})?/i
const dayThenTime = new RegExp(`^(.+?)(?:T|,?\\s+|_)${clock.source}\\s*${zone.source}$`, 'i')
const weekday = /^(mon|tue|wed|thu|fri|sat|sun|mo|di|mi|do|fr|sa|so)[a-z]*\.?,?\s+(?=\S)/i
const timeThenDay = new RegExp(`^${clock.source}\\s*,?\\s+(.+)$`, 'i')

/** Minutes since midnight in milliseconds; null for a time that no clock shows. */
function timeOfDayMs(
  hour: string | undefined,
  minute: string | undefined,
  second: string | undefined,
  half: string | undefined,
): number | null {
  const [h, m, s] = [Number(hour), Number(minute), Number(second ?? 0)]
  if (m > 59 || s > 59) return null
  if (!half) return h > 23 ? null : ((h * 60 + m) * 60 + s) * 1000
  if (h < 1 || h > 12) return null
  const inDay = (h % 12) + (/^p/i.test(half) ? 12 : 0)
  return ((inDay * 60 + m) * 60 + s) * 1000
}

/** Minutes ahead of UTC that a suffix such as Z or +01:00 says. */
function zoneMinutes(suffix: string): number {
  const found = /([+-])(\d{2}):?(\d{2})?$/.exec(suffix)
  if (!found) return 0
  const minutes = Number(found[2]) * 60 + Number(found[3] ?? 0)
  return found[1] === '-' ? -minutes : minutes
}

/** A year of two figures is one of this century: no logger is older. */
const withCentury = (day: string) =>
  day.replace(/^(\d{1,2}[/.-]\d{1,2}[/.-])(\d{2})$/, (_, start: string, year: string) => `${start}20${year}`)

/**
 * Reads a moment as loggers write it: an ISO date and time with or without a zone, or a day as spreadsheets write it
 * with a time of day of 24 or twice 12 hours, with or without seconds. The day may stand after the time.
 */
export function readMoment(text: string, order: DayOrder): MomentRead {
  const forwards = dayThenTime.exec(text)
  const backwards = forwards ? null : timeThenDay.exec(text)
  const parts = forwards?.slice(1) ?? (backwards ? [backwards[5], ...backwards.slice(1, 5)] : null)
  if (!parts)
    return readDay(withCentury(text), order).kind === 'no-day' ? { kind: 'no-moment' } : { kind: 'no-time' }
  const [dayText, hour, minute, second, half, suffix] = parts
  const day = readDay(withCentury((dayText ?? '').trim().replace(weekday, '')), order)
  if (day.kind === 'no-day') return { kind: 'no-moment' }
  const inDay = timeOfDayMs(hour, minute, second, half)
  if (inDay === null) return { kind: 'no-moment' }
  if (day.kind === 'two-ways') return day
  const ms = utcMidnight(day.day).getTime() + inDay
  return suffix ? { kind: 'instant', ms: ms - zoneMinutes(suffix) * 60_000 } : { kind: 'wall', ms }
}
