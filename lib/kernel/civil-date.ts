/** A calendar day without a time or zone, written `YYYY-MM-DD`. Compares correctly as a string. */
export type CivilDate = string & { readonly __civilDate: unique symbol }

const pattern = /^(\d{4})-(\d{2})-(\d{2})$/
const dayMs = 86_400_000

/** Parses `YYYY-MM-DD`; null when the text is not a real day of the calendar. */
export function parseCivilDate(text: string): CivilDate | null {
  const match = pattern.exec(text)
  if (!match) return null
  const at = new Date(`${text}T00:00:00Z`)
  return Number.isNaN(at.getTime()) || at.toISOString().slice(0, 10) !== text ? null : (text as CivilDate)
}

/** Like `parseCivilDate`, for text that the program itself wrote. Throws when it is not a day. */
export function civilDate(text: string): CivilDate {
  const date = parseCivilDate(text)
  if (!date) throw new Error(`Not a calendar day: ${text}`)
  return date
}

/** The day of a value of a PostgreSQL `date` column, which arrives as midnight UTC. */
export const civilDateOf = (utcMidnight: Date): CivilDate => civilDate(utcMidnight.toISOString().slice(0, 10))

/** Midnight UTC of a day: the shape in which a `date` column is written, and the axis of the charts. */
export const utcMidnight = (date: CivilDate): Date => new Date(`${date}T00:00:00Z`)

/** The day that a clock on the wall in `timeZone` (IANA) shows at an instant. */
export function civilDateIn(timeZone: string, instant: Date): CivilDate {
  return civilDate(wallClock(timeZone).day.format(instant))
}

interface WallClock {
  readonly day: Intl.DateTimeFormat
  readonly moment: Intl.DateTimeFormat
}

// Making a formatter costs a thousand times what using it does, and the zones are few.
const wallClocks = new Map<string, WallClock>()

function wallClock(timeZone: string): WallClock {
  const known = wallClocks.get(timeZone)
  if (known) return known
  const made: WallClock = {
    day: new Intl.DateTimeFormat('en-CA', { timeZone, year: 'numeric', month: '2-digit', day: '2-digit' }),
    moment: new Intl.DateTimeFormat('en-GB', {
      timeZone,
      hourCycle: 'h23',
      year: 'numeric',
      month: 'numeric',
      day: 'numeric',
      hour: 'numeric',
      minute: 'numeric',
      second: 'numeric',
    }),
  }
  wallClocks.set(timeZone, made)
  return made
}

/** How far the clock on the wall in `timeZone` is ahead of UTC at an instant, in milliseconds. */
function offsetMs(timeZone: string, utcMs: number): number {
  const parts = wallClock(timeZone).moment.formatToParts(new Date(utcMs))
  const part = (type: string) => Number(parts.find((p) => p.type === type)?.value)
  return (
    Date.UTC(part('year'), part('month') - 1, part('day'), part('hour'), part('minute'), part('second')) -
    utcMs
  )
}

/**
 * The instant at which a wall clock in `timeZone` shows `hour:minute` on a day. A time shown twice, when clocks go
 * back, is the first of the two; a time left out, when they go forward, is that much after the change.
 */
export function instantIn(timeZone: string, date: CivilDate, hour: number, minute = 0): Date {
  const wantedMs = utcMidnight(date).getTime() + (hour * 60 + minute) * 60_000
  const before = offsetMs(timeZone, wantedMs - dayMs)
  const after = offsetMs(timeZone, wantedMs + dayMs)
  const shown = [before, after].filter((offset) => offsetMs(timeZone, wantedMs - offset) === offset)
  return new Date(wantedMs - (shown[0] ?? before))
}

/**
 * The instants at which a wall clock in `timeZone` shows a time, given as if it were UTC in milliseconds: usually one,
 * two when the clocks go back over it (the first first), none when they go forward over it.
 */
export function instantsShown(timeZone: string, wallMs: number): readonly Date[] {
  const offsets = new Set([offsetMs(timeZone, wallMs - dayMs), offsetMs(timeZone, wallMs + dayMs)])
  return [...offsets]
    .filter((offset) => offsetMs(timeZone, wallMs - offset) === offset)
    .map((offset) => new Date(wallMs - offset))
    .sort((a, b) => a.getTime() - b.getTime())
}

export const addDays = (date: CivilDate, days: number): CivilDate =>
  civilDateOf(new Date(utcMidnight(date).getTime() + days * dayMs))

/** Whole days from one day to another; negative when `to` is earlier. */
export const daysBetween = (from: CivilDate, to: CivilDate): number =>
  Math.round((utcMidnight(to).getTime() - utcMidnight(from).getTime()) / dayMs)
