import { describe, expect, test } from 'vitest'
import { civilDate } from '#lib/kernel/civil-date.ts'
import { claimInstants, claimingAt, wallTimesOf } from '#lib/swaps/claim-times.ts'

describe('claim times', () => {
  test.each(['Europe/London', 'America/Los_Angeles', 'Pacific/Auckland', 'Asia/Kolkata'])(
    'come back from a form in %s as they were typed',
    (timeZone) => {
      const typed = {
        claimsOpenOn: civilDate('2027-01-20'),
        claimsOpenTime: '00:00',
        claimsCloseOn: civilDate('2027-07-14'),
        claimsCloseTime: '18:30',
      }
      expect(wallTimesOf(timeZone, claimInstants(timeZone, typed))).toEqual(typed)
    },
  )

  test('are those of the wall on each side of a change of clocks', () => {
    const { claimsOpenAt, claimsCloseAt } = claimInstants('Europe/London', {
      claimsOpenOn: civilDate('2027-03-27'),
      claimsOpenTime: '08:00',
      claimsCloseOn: civilDate('2027-03-28'),
      claimsCloseTime: '08:00',
    })
    expect(claimsCloseAt.getTime() - claimsOpenAt.getTime()).toBe(23 * 3_600_000)
  })
})

describe('whether members can claim', () => {
  const swap = {
    status: 'open' as const,
    claimsOpenAt: new Date('2027-01-20T08:00:00Z'),
    claimsCloseAt: new Date('2027-02-14T18:00:00Z'),
  }

  test.each([
    ['2027-01-20T07:59:59Z', 'opens-later'],
    ['2027-01-20T08:00:00Z', 'open'],
    ['2027-02-14T17:59:59Z', 'open'],
    ['2027-02-14T18:00:00Z', 'closed'],
  ])('at %s: %s', (now, expected) => {
    expect(claimingAt(swap, new Date(now))).toBe(expected)
  })

  test('not before somebody opens it, and not after the end', () => {
    const within = new Date('2027-02-01T00:00:00Z')
    expect(claimingAt({ ...swap, status: 'planned' }, within)).toBe('not-opened')
    expect(claimingAt({ ...swap, status: 'finished' }, within)).toBe('finished')
  })
})
