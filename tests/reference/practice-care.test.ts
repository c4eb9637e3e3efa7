import { describe, expect, it } from 'vitest'
import { callusTemperature } from '#lib/grafting/callus-temperature.ts'
import { type CareInput, careSchedule } from '#lib/grafting/care-schedule.ts'
import { checkpointsOf } from '#lib/grafting/checkpoints.ts'
import { failureCauses } from '#lib/grafting/failure-causes.ts'
import { findMethod, type Method } from '#lib/grafting/methods.ts'
import { required } from '#lib/kernel/assert.ts'
import { civilDate, daysBetween } from '#lib/kernel/civil-date.ts'

const madeOn = civilDate('2026-03-14')
const commonPractice = 'common practice, no source'

const tasksOf = (changed: Partial<CareInput>) =>
  careSchedule({
    method: 'whip-and-tongue',
    wrap: 'tape',
    madeOn,
    hemisphere: 'north',
    isAnyAlive: true,
    ...changed,
  })

const task = (id: string, changed: Partial<CareInput> = {}) =>
  required(
    tasksOf(changed).find((candidate) => candidate.id === id),
    id,
  )

const weeksAfter = (day: typeof madeOn) => daysBetween(madeOn, day) / 7

/** The clock of aftercare, each line with what it leans on and the advice that contradicts it. */
describe('aftercare', () => {
  it('label on the same day, rootstock noted: Home Orchard Education Center, newly grafted tree aftercare', () => {
    expect(task('label').dueOn).toBe(madeOn)
    expect(task('label').basis).toEqual({
      source: 'Home Orchard Education Center, newly grafted tree aftercare',
    })
  })

  it('ties looked at after 8 weeks, released or put off by 10: common practice, no source', () => {
    expect([weeksAfter(task('inspect-tie').dueOn), weeksAfter(task('release-tie').dueOn)]).toEqual([8, 10])
    expect(task('release-tie').basis).toBe(commonPractice)
  })

  it('against it stands 3 to 4 months, up to a year: Texas A&M whip graft guide, step 10; and growers’ midsummer', () => {
    const advice = task('release-tie').otherAdvice
    expect(advice.map(({ says }) => says)).toEqual([
      'Preferably 3 to 4 months, and up to a year.',
      'In the middle or towards the end of summer.',
      'Rubber with tape over it can strangle.',
    ])
    expect(advice[0]?.basis).toMatchObject({ source: expect.stringContaining('Texas A&M') })
    expect(advice[1]?.basis).toMatchObject({ source: expect.stringContaining('no research') })
  })

  it('stock shoots rubbed off about every three weeks in the first summer: a pecan grower’s notes', () => {
    expect(weeksAfter(task('rub-shoots-1').dueOn)).toBe(3)
    expect(task('rub-shoots-1').basis).toMatchObject({ source: expect.stringContaining('pecan grower') })
    expect(task('rub-shoots-1').otherAdvice[0]?.says).toMatch(/few leaves of the stock/)
  })

  it('approach graft notched from about week 8, cut free in weeks 9 to 13: common practice, no source', () => {
    const sever = task('sever', { method: 'approach' })
    expect([weeksAfter(task('wean', { method: 'approach' }).dueOn), weeksAfter(sever.openFrom)]).toEqual([
      8, 9,
    ])
    expect([weeksAfter(sever.dueOn), sever.basis]).toEqual([13, commonPractice])
    expect(sever.otherAdvice[0]?.says).toMatch(/far longer/)
  })

  it('T- and chip buds released after 4 to 6 weeks: common practice, no source', () => {
    const bud = { method: 't-bud' } as const
    expect([weeksAfter(task('inspect-tie', bud).dueOn), weeksAfter(task('release-tie', bud).dueOn)]).toEqual([
      4, 6,
    ])
    expect(task('release-tie', bud).basis).toBe(commonPractice)
  })

  it('white indoor water-based paint, one to one with water: University of California IPM', () => {
    const paint = task('protect-bark', { method: 'cleft' })
    expect(paint.words).toMatch(/white water-based indoor paint, thinned one to one/)
    expect(paint.basis).toMatchObject({ source: expect.stringContaining('University of California IPM') })
  })
})

describe('checkpoints: common practice of grafting groups, no source', () => {
  it('of a graft are 30 and 90 days, leaf-fall, second spring, first fruit, any later failure', () => {
    expect(checkpointsOf('cleft', madeOn, 'north').map(({ key }) => key)).toEqual([
      'thirty-days',
      'ninety-days',
      'leaf-fall',
      'second-spring',
      'first-fruit',
      'later-failure',
    ])
  })

  it('of a cutting are callused, rooted, potted, established', () => {
    const keys = checkpointsOf('hardwood-cutting', madeOn, 'north').map(({ key }) => key)
    expect(keys.slice(0, 4)).toEqual(['callused', 'rooted', 'potted', 'established'])
  })

  it('offer “not attempted” as an answer, which is no failure', () => {
    expect(failureCauses.find(({ key }) => key === 'not-attempted')?.countsAs).toBe('unknown')
  })
})

describe('the warmth at which wounds knit', () => {
  it.each([
    ['apple', 4, 18],
    ['peach_nectarine', 16, 27],
    ['apricot', 20, 23],
  ] as const)('%s %d to %d °C: growers’ reports', (crop, lowC, highC) => {
    expect(callusTemperature(crop, 'graft')).toMatchObject({ lowC, highC })
    expect(callusTemperature(crop, 'graft')?.basis).toMatchObject({
      source: expect.stringContaining('growers'),
    })
  })

  it('walnut and grape 24 to 27 °C: Hartmann & Kester, from memory', () => {
    for (const crop of ['walnut', 'grape'] as const) {
      expect(callusTemperature(crop, 'graft')).toMatchObject({ lowC: 24, highC: 27 })
      expect(callusTemperature(crop, 'graft')?.basis).toMatchObject({
        source: expect.stringContaining('memory'),
      })
    }
  })

  it('fig cuttings about 25 °C at the base: fig growers’ reports', () => {
    const fig = required(callusTemperature('fig', 'cutting'), 'fig')
    expect((fig.lowC + fig.highC) / 2).toBe(25)
  })

  it('is not known for what was not read about', () => {
    expect(callusTemperature('hazel', 'graft')).toBeNull()
    expect(callusTemperature('apple', 'cutting')).toBeNull()
  })
})

describe('methods', () => {
  it('bark and T-bud need slipping bark (extension leaflets), chip budding does not (UF/IFAS; Indian J Hort 2018)', () => {
    expect(findMethod('bark')?.needs).toMatchObject({
      slippingBark: true,
      basis: { source: expect.any(String) },
    })
    expect(findMethod('t-bud')?.needs.slippingBark).toBe(true)
    expect(findMethod('chip-bud')?.needs).toMatchObject({
      slippingBark: false,
      basis: { source: expect.stringContaining('UF/IFAS') },
    })
  })

  it('summer budding falls in July to September: common practice', () => {
    expect(findMethod('t-bud')?.season.months).toEqual(expect.arrayContaining([7, 8, 9]))
  })

  it('hardwood cuttings such as fig have three nodes or more: common practice, no source', () => {
    const hardwood: Method = required(findMethod('hardwood-cutting'), 'hardwood cutting')
    expect(hardwood.cutting).toMatchObject({ leastNodes: 3, basis: commonPractice })
  })
})
