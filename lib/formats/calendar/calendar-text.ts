import ical, { ICalCalendarMethod, ICalEventStatus, ICalEventTransparency } from 'ical-generator'
import { addDays, type CivilDate, utcMidnight } from '#lib/kernel/civil-date.ts'

/** A day in somebody's calendar. */
export interface CalendarEntry {
  /** The same for the same thing for ever. */
  readonly uid: string
  /** Grows with every change. */
  readonly sequence: number
  readonly changedAt: Date
  readonly on: CivilDate
  readonly title: string
  readonly words: string
  /** The page that it is about. */
  readonly url: string
  readonly isCancelled: boolean
}

/**
 * A calendar as text/calendar (RFC 5545): all-day events that block no time. What is no longer wanted stays in it
 * as cancelled, so that programs which keep old copies take it out.
 */
export function calendarText(name: string, entries: readonly CalendarEntry[]): string {
  const calendar = ical({
    // The library writes the name as it is, and these three would need a stroke before them.
    name: name.replaceAll(/[\\;,]+/g, ' '),
    prodId: { company: 'Tallywood', product: 'Care of grafts and cuttings', language: 'EN' },
    method: ICalCalendarMethod.PUBLISH,
    // Programs may ask again after half a day.
    ttl: 12 * 3600,
  })
  for (const entry of entries) {
    calendar.createEvent({
      id: entry.uid,
      sequence: entry.sequence,
      stamp: entry.changedAt,
      lastModified: entry.changedAt,
      start: utcMidnight(entry.on),
      end: utcMidnight(addDays(entry.on, 1)),
      allDay: true,
      timezone: 'UTC',
      summary: entry.title,
      description: entry.words,
      url: entry.url,
      status: entry.isCancelled ? ICalEventStatus.CANCELLED : ICalEventStatus.CONFIRMED,
      transparency: ICalEventTransparency.TRANSPARENT,
    })
  }
  return `${calendar.toString()}\r\n`
}
