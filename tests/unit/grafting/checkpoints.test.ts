import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { checkpointKeys, checkpointQuestions, checkpointsOf } from '#lib/grafting/checkpoints.ts'
import { type MethodKey, methods } from '#lib/grafting/methods.ts'
import { type Hemisphere, leafFallAfter, northernMonth, secondSpringAfter } from '#lib/grafting/season.ts'
import { addDays, civilDate } from '#lib/kernel/civil-date.ts'

const plan = (method: MethodKey, madeOn: string, hemisphere: Hemisphere = 'north') =>
  checkpointsOf(method, civilDate(madeOn), hemisphere).map(({ key, dueOn }) => `${key} ${dueOn}`)

describe('the checkpoints', () => {
  it('of a graft made in March', () => {
    expect(plan('cleft', '2026-03-14')).toEqual([
      'thirty-days 2026-04-13',
      'ninety-days 2026-06-12',
      'leaf-fall 2026-11-01',
      'second-spring 2027-05-01',
      'first-fruit 2027-09-01',
      'later-failure 2030-05-01',
    ])
  })

  it('of the same graft in the south come half a year later', () => {
    expect(plan('cleft', '2026-09-14', 'south')).toEqual([
      'thirty-days 2026-10-14',
      'ninety-days 2026-12-13',
      'leaf-fall 2027-05-01',
      'second-spring 2027-11-01',
      'first-fruit 2028-03-01',
      'later-failure 2030-11-01',
    ])
  })

  it('of a bud set in September keep the order of days', () => {
    expect(plan('t-bud', '2026-09-10').slice(0, 3)).toEqual([
      'thirty-days 2026-10-10',
      'leaf-fall 2026-11-01',
      'ninety-days 2026-12-09',
    ])
  })

  it('count a bench graft of December with the spring that follows', () => {
    expect(plan('whip-and-tongue', '2026-12-20').slice(2, 4)).toEqual([
      'leaf-fall 2027-11-01',
      'second-spring 2028-05-01',
    ])
  })

  it('of a hardwood cutting', () => {
    expect(plan('hardwood-cutting', '2026-02-01')).toEqual([
      'callused 2026-03-01',
      'rooted 2026-03-29',
      'potted 2026-05-10',
      'established 2027-05-01',
      'first-fruit 2027-09-01',
    ])
  })

  it('of an air layer leave the callus out, which nobody sees', () => {
    expect(plan('air-layer', '2026-05-01').map((line) => line.split(' ')[0])).toEqual([
      'rooted',
      'potted',
      'established',
      'first-fruit',
    ])
  })

  it('ask for fruit every year and for late failure every five', () => {
    const again = checkpointsOf('cleft', civilDate('2026-03-14'), 'north').map(
      ({ againAfterYears }) => againAfterYears,
    )
    expect(again).toEqual([null, null, null, null, 1, 5])
  })

  it('have a question each, and days after the work, for every method, day and hemisphere', () => {
    for (const key of checkpointKeys) expect(checkpointQuestions[key]).toMatch(/\?$/)
    fc.assert(
      fc.property(
        fc.constantFrom(...methods.map(({ key }) => key)),
        fc.nat(800),
        fc.constantFrom('north', 'south'),
        (method, day, hemisphere) => {
          const madeOn = addDays(civilDate('2024-01-01'), day)
          const days = checkpointsOf(method, madeOn, hemisphere).map(({ dueOn }) => dueOn)
          expect(days).toEqual(days.toSorted())
          for (const dueOn of days) expect(dueOn > madeOn).toBe(true)
        },
      ),
    )
  })
})

describe('the season', () => {
  it('of a southern month is that of the month six away', () => {
    expect(northernMonth(civilDate('2026-07-01'), 'south')).toBe(1)
    expect(northernMonth(civilDate('2026-01-01'), 'south')).toBe(7)
    expect(northernMonth(civilDate('2026-12-01'), 'south')).toBe(6)
    expect(northernMonth(civilDate('2026-06-01'), 'south')).toBe(12)
    expect(northernMonth(civilDate('2026-06-01'), 'north')).toBe(6)
  })

  it('ends with leaf-fall, not before a month has gone by', () => {
    expect(leafFallAfter(civilDate('2026-10-02'), 'north')).toBe('2026-11-01')
    expect(leafFallAfter(civilDate('2026-10-03'), 'north')).toBe('2027-11-01')
  })

  it('has its second spring after the first winter', () => {
    expect(secondSpringAfter(civilDate('2026-10-31'), 'north')).toBe('2027-05-01')
    expect(secondSpringAfter(civilDate('2026-11-01'), 'north')).toBe('2028-05-01')
    expect(secondSpringAfter(civilDate('2026-08-10'), 'south')).toBe('2027-11-01')
  })
})
