import { describe, expect, it } from 'vitest'
import { civilDate } from '#lib/kernel/civil-date.ts'
import { speakLimit, thirdOfMonth } from '#lib/viability/third-of-month.ts'

describe('a modelled date', () => {
  it('is spoken in thirds of a month', () => {
    const spoken = ['01', '10', '11', '20', '21', '31'].map((day) =>
      thirdOfMonth(civilDate(`2026-03-${day}`)),
    )
    expect(spoken).toEqual([
      'early March',
      'early March',
      'mid March',
      'mid March',
      'late March',
      'late March',
    ])
  })

  it('names every month', () => {
    expect(thirdOfMonth(civilDate('2026-01-15'))).toBe('mid January')
    expect(thirdOfMonth(civilDate('2026-12-31'))).toBe('late December')
    expect(thirdOfMonth(civilDate('2024-02-29'))).toBe('late February')
  })

  it('is cut short for charts', () => {
    expect(thirdOfMonth(civilDate('2026-06-03'), 'short')).toBe('early Jun')
  })
})

describe('a limit', () => {
  const today = civilDate('2026-07-10')

  it('is a third of a month for wood that keeps three weeks or longer', () => {
    expect(speakLimit(civilDate('2026-07-15'), { today, livesDays: 21 })).toBe('mid July')
    expect(speakLimit(civilDate('2026-07-15'), { today, livesDays: 120, month: 'short' })).toBe('mid Jul')
  })

  it('is in days for wood that keeps less', () => {
    const inDays = (limit: string) => speakLimit(civilDate(limit), { today, livesDays: 20.9 })
    expect(inDays('2026-07-15')).toBe('about 5 days')
    expect(inDays('2026-07-11')).toBe('about a day')
    expect(inDays('2026-07-10')).toBe('about today')
    expect(inDays('2026-07-09')).toBe('about a day ago')
    expect(inDays('2026-07-08')).toBe('about 2 days ago')
  })
})
