import { addDays, type CivilDate, civilDate } from '#lib/kernel/civil-date.ts'

export type Hemisphere = 'north' | 'south'

const yearOf = (date: CivilDate) => Number(date.slice(0, 4))
const calendarMonth = (date: CivilDate) => Number(date.slice(5, 7))

/** The month of the northern year that a day's season stands for, 1 to 12: July in the south is January. */
export function northernMonth(date: CivilDate, hemisphere: Hemisphere): number {
  const month = calendarMonth(date)
  return hemisphere === 'north' ? month : ((month + 5) % 12) + 1
}

/** The first day, on or after another, that is the 1st of a month of the northern year. */
export function nextFirstOf(northern: number, onOrAfter: CivilDate, hemisphere: Hemisphere): CivilDate {
  const month = hemisphere === 'north' ? northern : ((northern + 5) % 12) + 1
  const inYear = (year: number) => civilDate(`${year}-${String(month).padStart(2, '0')}-01`)
  const same = inYear(yearOf(onOrAfter))
  return same >= onOrAfter ? same : inYear(yearOf(onOrAfter) + 1)
}

const november = 11
const may = 5
/** Made later than this before leaf-fall, a graft is not counted until the next one. */
const leafFallAfterDays = 30

/** When leaves are down, taken as 1 November (1 May in the south), at least 30 days after. Common practice, no source. */
export const leafFallAfter = (madeOn: CivilDate, hemisphere: Hemisphere): CivilDate =>
  nextFirstOf(november, addDays(madeOn, leafFallAfterDays), hemisphere)

/**
 * Second spring: 1 May (1 November in the south) of the season after the one in which a piece first grew. Work of
 * the dormant season belongs to the spring that follows it. Common practice, no source.
 */
export function secondSpringAfter(madeOn: CivilDate, hemisphere: Hemisphere): CivilDate {
  const seasonEnds = nextFirstOf(november, addDays(madeOn, 1), hemisphere)
  return nextFirstOf(may, seasonEnds, hemisphere)
}
