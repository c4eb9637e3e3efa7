import { describe, expect, test } from 'vitest'
import { addDays, civilDate, civilDateIn, daysBetween } from '#lib/kernel/civil-date.ts'
import { demoCalendar, thirdSundayOfFebruary, timeZone } from '#seed/demo/calendar.ts'

const everyThirdDay = Array.from({ length: 122 }, (_, i) => addDays(civilDate('2027-01-01'), 3 * i))
const calendars = everyThirdDay.map((today) => ({
  today,
  calendar: demoCalendar(new Date(`${today}T12:00:00Z`)),
}))

describe('the demo’s calendar', () => {
  test('holds winter swaps on the third Sunday of February', () => {
    expect(thirdSundayOfFebruary(2026)).toBe('2026-02-15')
    expect(thirdSundayOfFebruary(2027)).toBe('2027-02-21')
    expect(thirdSundayOfFebruary(2032)).toBe('2032-02-15')
  })

  test('puts the open swap of a February day seventeen days ahead', () => {
    const { current } = demoCalendar(new Date('2027-02-04T09:00:00Z'))
    expect(current).toMatchObject({ kind: 'dormant', heldOn: '2027-02-21', claimsCloseOn: '2027-02-14' })
  })

  test.each(calendars)(
    'has a swap open for claims on $today',
    ({ today, calendar: { current, yesterday } }) => {
      expect(current.claimsOpenOn < today && today < current.claimsCloseOn).toBe(true)
      expect(current.claimsCloseOn <= current.heldOn).toBe(true)
      expect(current.cutFrom <= current.cutTo && current.cutTo < yesterday).toBe(true)
      expect(current.plannedOn < current.claimsOpenOn).toBe(true)
    },
  )

  test.each(calendars)(
    'cuts budwood only in summer, and never long before it is used: $today',
    ({ calendar }) => {
      const { current } = calendar
      const isSummer = (day: string) => day.slice(5) >= '06-01' && day.slice(5) <= '09-30'
      expect(isSummer(current.cutFrom)).toBe(current.kind === 'budding')
      expect(isSummer(current.cutTo)).toBe(current.kind === 'budding')
      if (current.kind === 'budding')
        expect(daysBetween(current.cutFrom, current.heldOn)).toBeLessThanOrEqual(7)
    },
  )

  test.each(calendars)('keeps the finished swaps well behind $today', ({ today, calendar: { finished } }) => {
    expect(daysBetween(finished[1].heldOn, today)).toBeGreaterThanOrEqual(110)
    expect(daysBetween(finished[0].heldOn, finished[1].heldOn)).toBeGreaterThanOrEqual(357)
  })

  test('reads the day off the wall of the group, not off the server', () => {
    const lateEvening = new Date('2027-06-30T23:30:00Z')
    expect(civilDateIn(timeZone, lateEvening)).toBe('2027-07-01')
    expect(demoCalendar(lateEvening).yesterday).toBe('2027-06-30')
  })
})
