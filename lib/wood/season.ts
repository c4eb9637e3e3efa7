import { type CivilDate, civilDate } from '#lib/kernel/civil-date.ts'

/** A year of wood: cut in winter, grafted in spring. From 1 September to 31 August. */
export interface Season {
  readonly startYear: number
  readonly from: CivilDate
  /** The first day of the next one. */
  readonly before: CivilDate
}

export const seasonStarting = (startYear: number): Season => ({
  startYear,
  from: civilDate(`${startYear}-09-01`),
  before: civilDate(`${startYear + 1}-09-01`),
})

/** The year in which the season of a day begins. */
export const seasonStartYear = (day: CivilDate): number =>
  Number(day.slice(0, 4)) - (day.slice(5) < '09-01' ? 1 : 0)
