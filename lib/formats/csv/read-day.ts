import { type CivilDate, parseCivilDate } from '#lib/kernel/civil-date.ts'

/** In which order days are written that could be read two ways: 3/4/2026. Null: nobody has said. */
export type DayOrder = 'dmy' | 'mdy' | 'iso' | null

export type DayRead =
  | { readonly kind: 'day'; readonly day: CivilDate }
  /** Both readings are days of the calendar, and they differ. */
  | { readonly kind: 'two-ways'; readonly readings: readonly [CivilDate, CivilDate] }
  | { readonly kind: 'no-day' }

const months = ['jan', 'feb', 'mar', 'apr', 'may', 'jun', 'jul', 'aug', 'sep', 'oct', 'nov', 'dec']

const dayOf = (year: string | undefined, month: number, day: number): CivilDate | null =>
  parseCivilDate(`${year}-${String(month).padStart(2, '0')}-${String(day).padStart(2, '0')}`)

const noDay: DayRead = { kind: 'no-day' }
const read = (day: CivilDate | null): DayRead => (day ? { kind: 'day', day } : noDay)

/** "14 March 2026", "14 Mar 2026", "March 14, 2026". */
function withMonthName(text: string): DayRead {
  const dayFirst = /^(\d{1,2})\.?[\s-]+([a-z]{3,9})\.?,?[\s-]+(\d{4})$/i.exec(text)
  const monthFirst = /^([a-z]{3,9})\.?[\s-]+(\d{1,2}),?[\s-]+(\d{4})$/i.exec(text)
  const [name, day, year] = dayFirst
    ? [dayFirst[2], dayFirst[1], dayFirst[3]]
    : [monthFirst?.[1], monthFirst?.[2], monthFirst?.[3]]
  const month = months.indexOf((name ?? '').slice(0, 3).toLowerCase()) + 1
  return month === 0 ? noDay : read(dayOf(year, month, Number(day)))
}

/**
 * Reads a day as a spreadsheet writes it: 2026-03-14, 14/3/2026, 14.3.2026 or 14 March 2026, the year always with
 * four digits. What could be two days is read only in an order that somebody named.
 */
export function readDay(text: string, order: DayOrder): DayRead {
  const iso = /^(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})(?:[T ]00:00(?::00)?)?$/.exec(text)
  if (iso) return read(dayOf(iso[1], Number(iso[2]), Number(iso[3])))
  const numbers = /^(\d{1,2})[/.-](\d{1,2})[/.-](\d{4})$/.exec(text)
  if (!numbers) return order === 'iso' ? noDay : withMonthName(text)
  const [first, second, year] = [Number(numbers[1]), Number(numbers[2]), numbers[3]]
  if (order === 'iso') return noDay
  const dayFirst = dayOf(year, second, first)
  const monthFirst = dayOf(year, first, second)
  if (order === 'dmy') return read(dayFirst)
  if (order === 'mdy') return read(monthFirst)
  if (dayFirst && monthFirst && dayFirst !== monthFirst) {
    return { kind: 'two-ways', readings: [dayFirst, monthFirst] }
  }
  return read(dayFirst ?? monthFirst)
}
