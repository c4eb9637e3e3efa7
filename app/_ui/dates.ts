import { type CivilDate, civilDate, civilDateIn, daysBetween, utcMidnight } from '#lib/kernel/civil-date.ts'

const shortMonths = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec']
const longMonths = [
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
const longWeekdays = ['Sunday', 'Monday', 'Tuesday', 'Wednesday', 'Thursday', 'Friday', 'Saturday']

function parts(date: CivilDate) {
  const at = utcMidnight(date)
  const month = at.getUTCMonth()
  const weekday = longWeekdays[at.getUTCDay()] ?? ''
  return {
    day: at.getUTCDate(),
    month,
    year: at.getUTCFullYear(),
    shortMonth: shortMonths[month] ?? '',
    longMonth: longMonths[month] ?? '',
    weekday,
  }
}

/** "Jan". */
export const monthName = (date: CivilDate): string => parts(date).shortMonth

/** "11 Jan". */
export function dayMonth(date: CivilDate): string {
  const { day, shortMonth } = parts(date)
  return `${day} ${shortMonth}`
}

/** "Mon 11 Jan". */
export const weekday = (date: CivilDate): string => `${parts(date).weekday.slice(0, 3)} ${dayMonth(date)}`

/** "11 Jan 2027", for labels and lists that leave the season. */
export const labelDay = (date: CivilDate): string => `${dayMonth(date)} ${parts(date).year}`

/** The year in which the season of a day begins. Seasons run from September; from March south of the equator. */
export function seasonStart(date: CivilDate, firstMonth = 9): number {
  const { month, year } = parts(date)
  return month + 1 >= firstMonth ? year : year - 1
}

/** "2026–27". */
export const seasonName = (startYear: number): string =>
  `${startYear}–${String((startYear + 1) % 100).padStart(2, '0')}`

const sameSeason = (a: CivilDate, b: CivilDate | undefined): boolean =>
  b !== undefined && seasonStart(a) === seasonStart(b)

/** A recorded day, exactly: "Mon 11 Jan", with the year when it is not in the season of `today`. */
export const recordedDay = (date: CivilDate, today?: CivilDate): string =>
  sameSeason(date, today) ? weekday(date) : `${weekday(date)} ${parts(date).year}`

/** "Thursday 4 February", with the year when it is not in the season of `today`. */
export function longDay(date: CivilDate, today?: CivilDate): string {
  const { day, longMonth, weekday: name, year } = parts(date)
  return `${name} ${day} ${longMonth}${sameSeason(date, today) ? '' : ` ${year}`}`
}

/** A time of day: "6 pm", "1.42 pm"; 12 am is midnight and 12 pm noon. */
export function clockTime(instant: Date, timeZone: string): string {
  const found = new Intl.DateTimeFormat('en-GB', {
    timeZone,
    hourCycle: 'h23',
    hour: '2-digit',
    minute: '2-digit',
  }).formatToParts(instant)
  const of = (type: 'hour' | 'minute') => Number(found.find((part) => part.type === type)?.value)
  const hour = of('hour')
  const minute = of('minute')
  const half = hour < 12 ? 'am' : 'pm'
  const twelve = hour % 12 === 0 ? 12 : hour % 12
  return minute === 0 ? `${twelve} ${half}` : `${twelve}.${String(minute).padStart(2, '0')} ${half}`
}

/** An instant as people of a place say it: "Sun 14 Feb, 6 pm". */
export const instantWords = (instant: Date, timeZone: string, today?: CivilDate): string =>
  `${recordedDay(civilDateIn(timeZone, instant), today)}, ${clockTime(instant, timeZone)}`

/** "today", "tomorrow", "in 17 days", "yesterday", "3 days ago". */
export function daysAway(today: CivilDate, date: CivilDate): string {
  const days = daysBetween(today, date)
  if (days === 0) return 'today'
  if (days === 1) return 'tomorrow'
  if (days === -1) return 'yesterday'
  return days > 0 ? `in ${days} days` : `${-days} days ago`
}

/** The first day of the month of a day. */
export const monthStart = (date: CivilDate): CivilDate => civilDate(`${date.slice(0, 7)}-01`)

/** The first day of the month after. */
export function nextMonth(date: CivilDate): CivilDate {
  const { month, year } = parts(date)
  return civilDate(new Date(Date.UTC(year, month + 1, 1)).toISOString().slice(0, 10))
}
