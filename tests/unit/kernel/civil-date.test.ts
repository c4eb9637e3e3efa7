import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  addDays,
  civilDate,
  civilDateIn,
  civilDateOf,
  daysBetween,
  instantIn,
  instantsShown,
  parseCivilDate,
  utcMidnight,
} from '#lib/kernel/civil-date.ts'

describe('reading a day', () => {
  it('takes days of the calendar', () => {
    for (const text of ['2026-02-21', '2024-02-29', '2000-02-29', '1999-12-31']) {
      expect(parseCivilDate(text)).toBe(text)
    }
  })

  it('refuses what is no day of the calendar, and what is written otherwise', () => {
    const texts = [
      '2026-02-29',
      '1900-02-29',
      '2026-13-01',
      '2026-00-10',
      '2026-04-31',
      '2026-4-3',
      '21/02/2026',
    ]
    for (const text of [...texts, '', '2026-02-21T00:00', ' 2026-02-21', '2026-02-21\n', '٢٠٢٦-٠٢-٢١']) {
      expect(parseCivilDate(text), text).toBeNull()
    }
  })

  it('throws for text that the program itself got wrong', () => {
    expect(() => civilDate('2026-02-30')).toThrow('2026-02-30')
  })
})

describe('reckoning with days', () => {
  it('crosses months, leap days and years', () => {
    expect(addDays(civilDate('2024-02-28'), 1)).toBe('2024-02-29')
    expect(addDays(civilDate('2025-12-31'), 1)).toBe('2026-01-01')
    expect(addDays(civilDate('2026-03-01'), -1)).toBe('2026-02-28')
    expect(daysBetween(civilDate('2026-02-21'), civilDate('2026-03-01'))).toBe(8)
    expect(daysBetween(civilDate('2026-03-01'), civilDate('2026-02-21'))).toBe(-8)
  })

  it('undoes itself, and sorts as text', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: -200_000, max: 200_000 }),
        fc.integer({ min: 0, max: 90_000 }),
        (from, days) => {
          const start = addDays(civilDate('2026-01-01'), from)
          const end = addDays(start, days)
          expect(daysBetween(start, end)).toBe(days)
          expect(end >= start).toBe(true)
          expect(civilDateOf(utcMidnight(end))).toBe(end)
        },
      ),
    )
  })
})

describe('the clock on the wall', () => {
  it('tells the day by its own zone', () => {
    const instant = new Date('2026-02-21T23:30:00Z')
    expect(civilDateIn('Europe/London', instant)).toBe('2026-02-21')
    expect(civilDateIn('Pacific/Auckland', instant)).toBe('2026-02-22')
    expect(civilDateIn('America/Los_Angeles', new Date('2026-02-21T07:59:00Z'))).toBe('2026-02-20')
  })

  const at = (zone: string, day: string, hour: number, minute = 0) =>
    instantIn(zone, civilDate(day), hour, minute).toISOString()

  it('shows noon at the right instant in winter and in summer', () => {
    expect(at('Europe/London', '2026-01-10', 12)).toBe('2026-01-10T12:00:00.000Z')
    expect(at('Europe/London', '2026-07-10', 12)).toBe('2026-07-10T11:00:00.000Z')
    expect(at('America/New_York', '2026-01-10', 12)).toBe('2026-01-10T17:00:00.000Z')
    expect(at('Pacific/Auckland', '2026-01-10', 12)).toBe('2026-01-09T23:00:00.000Z')
    expect(at('Asia/Kathmandu', '2026-01-10', 0, 30)).toBe('2026-01-09T18:45:00.000Z')
  })

  it('shows the hours beside a change of the clocks at the right instants', () => {
    expect(at('America/New_York', '2026-03-08', 1, 30)).toBe('2026-03-08T06:30:00.000Z')
    expect(at('America/New_York', '2026-03-08', 3, 30)).toBe('2026-03-08T07:30:00.000Z')
    expect(at('Europe/London', '2026-10-25', 0, 30)).toBe('2026-10-24T23:30:00.000Z')
    expect(at('Europe/London', '2026-10-25', 2)).toBe('2026-10-25T02:00:00.000Z')
    expect(at('Pacific/Auckland', '2026-09-27', 1, 30)).toBe('2026-09-26T13:30:00.000Z')
    expect(at('Pacific/Auckland', '2026-04-05', 3, 30)).toBe('2026-04-04T15:30:00.000Z')
  })

  it('takes the first of two readings when clocks go back, east and west of Greenwich', () => {
    expect(at('Europe/London', '2026-10-25', 1, 30)).toBe('2026-10-25T00:30:00.000Z')
    expect(at('America/New_York', '2026-11-01', 1, 30)).toBe('2026-11-01T05:30:00.000Z')
    expect(at('Pacific/Auckland', '2026-04-05', 2, 30)).toBe('2026-04-04T13:30:00.000Z')
  })

  it('steps over the hour that is left out when clocks go forward, east and west of Greenwich', () => {
    expect(at('Europe/London', '2026-03-29', 1, 30)).toBe('2026-03-29T01:30:00.000Z')
    expect(at('America/New_York', '2026-03-08', 2, 30)).toBe('2026-03-08T07:30:00.000Z')
    expect(at('Pacific/Auckland', '2026-09-27', 2, 30)).toBe('2026-09-26T14:30:00.000Z')
  })

  it('shows, at the instant found, the day that was asked for', () => {
    const zones = [
      'Europe/London',
      'America/New_York',
      'Pacific/Auckland',
      'Asia/Kolkata',
      'Pacific/Kiritimati',
    ]
    fc.assert(
      fc.property(fc.constantFrom(...zones), fc.integer({ min: 0, max: 20_000 }), (zone, days) => {
        const day = addDays(civilDate('1980-01-01'), days)
        expect(civilDateIn(zone, instantIn(zone, day, 12))).toBe(day)
      }),
      { numRuns: 50 },
    )
  })
})

describe('the instants at which a clock shows a time', () => {
  const shown = (zone: string, wall: string) =>
    instantsShown(zone, Date.parse(wall)).map((at) => at.toISOString())

  it('is one on most days', () => {
    expect(shown('Europe/London', '2026-07-01T12:00:00Z')).toEqual(['2026-07-01T11:00:00.000Z'])
    expect(shown('UTC', '2026-07-01T12:00:00Z')).toEqual(['2026-07-01T12:00:00.000Z'])
  })

  it('are none when the clocks go forward over it, and two when they go back', () => {
    expect(shown('Europe/London', '2026-03-29T01:30:00Z')).toEqual([])
    expect(shown('Europe/London', '2026-10-25T01:30:00Z')).toEqual([
      '2026-10-25T00:30:00.000Z',
      '2026-10-25T01:30:00.000Z',
    ])
    expect(shown('Australia/Lord_Howe', '2026-04-05T01:45:00Z')).toEqual([
      '2026-04-04T14:45:00.000Z',
      '2026-04-04T15:15:00.000Z',
    ])
  })
})
