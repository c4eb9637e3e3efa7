import { describe, expect, test } from 'vitest'
import {
  clockTime,
  daysAway,
  instantWords,
  longDay,
  monthStart,
  nextMonth,
  recordedDay,
  seasonName,
  seasonStart,
} from '#app/_ui/dates.ts'
import { civilDate } from '#lib/kernel/civil-date.ts'

const today = civilDate('2027-02-04')

describe('a recorded day', () => {
  test('is said exactly, without the year inside the season', () => {
    expect(recordedDay(civilDate('2027-01-11'), today)).toBe('Mon 11 Jan')
    expect(recordedDay(civilDate('2026-09-01'), today)).toBe('Tue 1 Sep')
  })

  test('carries its year outside the season, and where no day is given to compare', () => {
    expect(recordedDay(civilDate('2026-08-31'), today)).toBe('Mon 31 Aug 2026')
    expect(recordedDay(civilDate('2027-01-11'))).toBe('Mon 11 Jan 2027')
  })

  test('is spelt out for a heading', () => {
    expect(longDay(today, today)).toBe('Thursday 4 February')
  })
})

describe('a season', () => {
  test('is named by both its years', () => {
    expect(seasonName(seasonStart(today))).toBe('2026–27')
    expect(seasonName(2099)).toBe('2099–00')
  })

  test('begins in March south of the equator', () => {
    expect(seasonStart(civilDate('2027-02-28'), 3)).toBe(2026)
    expect(seasonStart(civilDate('2027-03-01'), 3)).toBe(2027)
  })
})

describe('an instant', () => {
  test('is told by the clock of the place', () => {
    const instant = new Date('2027-02-14T18:00:00Z')
    expect(clockTime(instant, 'Europe/London')).toBe('6 pm')
    expect(instantWords(instant, 'Europe/London', today)).toBe('Sun 14 Feb, 6 pm')
    expect(instantWords(new Date('2027-02-14T23:42:00Z'), 'Europe/Paris', today)).toBe('Mon 15 Feb, 12.42 am')
  })

  test('counts noon as 12 pm', () => {
    expect(clockTime(new Date('2027-02-14T12:05:00Z'), 'Europe/London')).toBe('12.05 pm')
  })
})

test('a day is told by its distance', () => {
  expect(daysAway(today, today)).toBe('today')
  expect(daysAway(today, civilDate('2027-02-05'))).toBe('tomorrow')
  expect(daysAway(today, civilDate('2027-02-21'))).toBe('in 17 days')
  expect(daysAway(today, civilDate('2027-02-01'))).toBe('3 days ago')
})

test('the month after December is January of the next year', () => {
  expect(nextMonth(civilDate('2026-12-31'))).toBe('2027-01-01')
  expect(monthStart(civilDate('2026-12-31'))).toBe('2026-12-01')
})
