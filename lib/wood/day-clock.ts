import { type CivilDate, civilDate, instantIn } from '#lib/kernel/civil-date.ts'

/** Turns days into instants and back in one time zone, for many lots at a time. */
export interface DayClock {
  /** Noon on the wall of a day: the boundary that a day-only entry is given. */
  noon(day: CivilDate): Date
  /** The day that the wall shows at an instant. */
  dayOf(instant: Date): CivilDate
}

/** A clock that makes its formatter once: making one costs more than a whole window. */
export function dayClock(timeZone: string): DayClock {
  const format = new Intl.DateTimeFormat('en-CA', {
    timeZone,
    year: 'numeric',
    month: '2-digit',
    day: '2-digit',
  })
  const noons = new Map<CivilDate, Date>()
  return {
    noon(day) {
      const known = noons.get(day)
      if (known) return known
      const noon = instantIn(timeZone, day, 12)
      noons.set(day, noon)
      return noon
    },
    dayOf: (instant) => civilDate(format.format(instant)),
  }
}
