import {
  addDays,
  type CivilDate,
  civilDate,
  civilDateIn,
  daysBetween,
  utcMidnight,
} from '#lib/kernel/civil-date.ts'

export const timeZone = 'Europe/London'

/** One swap with the cutting before it and, where it lies behind us, the grafting after it. */
export interface Season {
  readonly kind: 'dormant' | 'budding'
  readonly cutFrom: CivilDate
  readonly cutTo: CivilDate
  readonly plannedOn: CivilDate
  readonly claimsOpenOn: CivilDate
  readonly claimsCloseOn: CivilDate
  readonly heldOn: CivilDate
}

/** The demo's time: everything is placed relative to the present, so that the world is never stale. */
export interface DemoCalendar {
  /** Nothing is recorded later than this, so that no hour of the present is overtaken. */
  readonly yesterday: CivilDate
  /** The older one first. */
  readonly finished: readonly [Season, Season]
  readonly current: Season
}

const day = (year: number, monthDay: string) => civilDate(`${year}-${monthDay}`)
const yearOf = (date: CivilDate) => Number(date.slice(0, 4))
/** The later of two days. */
export const later = (a: CivilDate, b: CivilDate) => (daysBetween(a, b) > 0 ? b : a)

/** The earlier of two days. */
export const earlier = (a: CivilDate, b: CivilDate) => (daysBetween(a, b) > 0 ? a : b)

/** The Circle meets on the third Sunday of February. */
export function thirdSundayOfFebruary(year: number): CivilDate {
  const first = day(year, '02-01')
  const daysToSunday = (7 - utcMidnight(first).getUTCDay()) % 7
  return addDays(first, daysToSunday + 14)
}

function finishedSeason(year: number): Season {
  const heldOn = thirdSundayOfFebruary(year)
  return {
    kind: 'dormant',
    cutFrom: day(year - 1, '12-20'),
    cutTo: addDays(heldOn, -9),
    plannedOn: addDays(heldOn, -60),
    claimsOpenOn: addDays(heldOn, -24),
    claimsCloseOn: addDays(heldOn, -7),
    heldOn,
  }
}

/** Budwood in leaf keeps about ten days in a fridge, so a budding swap follows the knife within days. */
const buddingSeason = (today: CivilDate): Season => ({
  kind: 'budding',
  cutFrom: addDays(today, -4),
  cutTo: addDays(today, -2),
  plannedOn: addDays(today, -20),
  claimsOpenOn: addDays(today, -4),
  claimsCloseOn: addDays(today, 2),
  heldOn: addDays(today, 3),
})

/**
 * Dormant wood is cut in the six weeks before, but not before the leaves are down nor after the buds move: in
 * spring that is wood kept cold since the winter. In October the first wood is cut early, in the last days.
 */
function dormantSeason(today: CivilDate): Season {
  const autumnYear = today.slice(5) >= '10-01' ? yearOf(today) : yearOf(today) - 1
  const leavesDown = day(autumnYear, '11-12')
  const budsMove = day(autumnYear + 1, '03-08')
  const usual = earlier(addDays(today, -3), budsMove)
  const isEarly = daysBetween(leavesDown, usual) < 10
  const cutTo = isEarly ? addDays(today, -2) : usual
  const cutFrom = isEarly
    ? later(addDays(today, -12), earlier(day(autumnYear, '10-01'), cutTo))
    : later(addDays(cutTo, -42), leavesDown)
  return {
    kind: 'dormant',
    cutFrom,
    cutTo,
    plannedOn: addDays(today, -30),
    claimsOpenOn: addDays(today, -9),
    claimsCloseOn: addDays(today, 10),
    heldOn: addDays(today, 17),
  }
}

/**
 * Places the two finished swaps on the last Februaries that are far enough behind, and the open one a little
 * ahead of the present: seventeen days with dormant wood, three days with summer budwood (June to September).
 */
export function demoCalendar(now: Date): DemoCalendar {
  const today = civilDateIn(timeZone, now)
  const year = yearOf(today)
  const isFarBehind = daysBetween(thirdSundayOfFebruary(year), today) >= 110
  const newest = isFarBehind ? year : year - 1
  // The wood of a budding swap is cut two to four days before, which must fall into June to September as well.
  const isBudding = today.slice(5) >= '06-05' && today.slice(5) <= '10-02'
  return {
    yesterday: addDays(today, -1),
    finished: [finishedSeason(newest - 1), finishedSeason(newest)],
    current: isBudding ? buddingSeason(today) : dormantSeason(today),
  }
}

/** The day that lies `fraction` of the way from one day to another. */
export const between = (from: CivilDate, to: CivilDate, fraction: number): CivilDate =>
  addDays(from, Math.round(daysBetween(from, to) * fraction))
