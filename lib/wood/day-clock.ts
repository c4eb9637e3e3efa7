import { type CivilDate, civilDateIn, instantIn } from '#lib/kernel/civil-date.ts'

/** Turns days into instants and back in one time zone, for many lots at a time. */
export interface DayClock {
  /** Noon on the wall of a day: the boundary that a day-only entry is given. */
  noon(day: CivilDate): Date
  /** The day that the wall shows at an instant. */
  dayOf(instant: Date): CivilDate
}

/** A clock that works each noon out once, however many lots share it. */
export function dayClock(timeZone: string): DayClock {
  const noons = new Map<CivilDate, Date>()
  return {
    noon(day) {
      const known = noons.get(day)
      if (known) return known
      const noon = instantIn(timeZone, day, 12)
      noons.set(day, noon)
      return noon
    },
    dayOf: (instant) => civilDateIn(timeZone, instant),
  }
}
