import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type CareInput, careSchedule, careStateOf, wraps } from '#lib/grafting/care-schedule.ts'
import { methods } from '#lib/grafting/methods.ts'
import { required } from '#lib/kernel/assert.ts'
import { addDays, civilDate, daysBetween } from '#lib/kernel/civil-date.ts'

const whip: CareInput = {
  method: 'whip-and-tongue',
  wrap: 'tape',
  madeOn: civilDate('2026-03-14'),
  hemisphere: 'north',
  isAnyAlive: true,
}

const ids = (changed: Partial<CareInput>) =>
  careSchedule({ ...whip, ...changed })
    .map(({ id }) => id)
    .filter((id) => !id.startsWith('rub-shoots'))

const taskOf = (id: string, changed: Partial<CareInput> = {}) =>
  required(
    careSchedule({ ...whip, ...changed }).find((task) => task.id === id),
    id,
  )

const daysUntil = (id: string, changed: Partial<CareInput> = {}) => {
  const { openFrom, dueOn, overdueFrom } = taskOf(id, changed)
  return [openFrom, dueOn, overdueFrom].map((day) => daysBetween(whip.madeOn, day))
}

describe('the care of a graft', () => {
  it('is label, tie, shoots and label again', () => {
    expect(ids({})).toEqual(['label', 'inspect-tie', 'release-tie', 'move-label'])
  })

  it('looks at the tie after 8 weeks and is late once 10 are over', () => {
    expect(daysUntil('inspect-tie')).toEqual([56, 56, 71])
    expect(daysUntil('release-tie')).toEqual([56, 70, 71])
  })

  it('shows a late string or nylon tie strongly, and a late tape as late', () => {
    const late = addDays(whip.madeOn, 71)
    const stateOf = (wrap: CareInput['wrap']) => careStateOf(taskOf('release-tie', { wrap }), null, late)
    expect([stateOf('string'), stateOf('nylon'), stateOf('tape')]).toEqual([
      'overdue-strong',
      'overdue-strong',
      'overdue',
    ])
  })

  it('asks for no tie where there is none', () => {
    expect(ids({ wrap: 'wax' })).toEqual(['label', 'move-label'])
    expect(ids({ wrap: 'none' })).toEqual(['label', 'move-label'])
  })

  it('asks for the label on day one', () => {
    expect(daysUntil('label')).toEqual([0, 0, 1])
  })

  it('weans an approach graft from 8 weeks and cuts it free by 13', () => {
    expect(daysUntil('wean', { method: 'approach' })).toEqual([56, 56, 92])
    expect(daysUntil('sever', { method: 'approach' })).toEqual([63, 91, 92])
  })

  it('rubs shoots off every three weeks until leaf-fall of the first season', () => {
    const rubs = careSchedule(whip).filter(({ id }) => id.startsWith('rub-shoots'))
    expect(rubs.map(({ dueOn }) => daysBetween(whip.madeOn, dueOn))).toEqual(
      Array.from({ length: 11 }, (_, i) => 21 * (i + 1)),
    )
    expect(required(rubs.at(-1), 'the last').dueOn < '2026-11-01').toBe(true)
    expect(new Set(rubs.map(({ id }) => id)).size).toBe(11)
  })

  it('paints cut-back limbs at once, and covers a bark graft again after unwrapping', () => {
    expect(ids({ method: 'bark' })).toEqual([
      'label',
      'protect-bark',
      'inspect-tie',
      'release-tie',
      'cover-union',
      'move-label',
    ])
    expect(daysUntil('cover-union', { method: 'bark' })).toEqual(daysUntil('release-tie'))
    expect(ids({ method: 'cleft', wrap: 'wax' })).toEqual(['label', 'protect-bark', 'move-label'])
  })

  it('releases a bud sooner and lets one set in summer rest until spring', () => {
    const summer = { method: 'chip-bud', madeOn: civilDate('2026-08-01') } as const
    expect(daysBetween(summer.madeOn, taskOf('inspect-tie', summer).dueOn)).toBe(28)
    expect(daysBetween(summer.madeOn, taskOf('release-tie', summer).dueOn)).toBe(42)
    expect(taskOf('force-bud', summer).dueOn).toBe('2027-03-01')
    expect(taskOf('rub-shoots-1', summer).dueOn).toBe('2027-04-22')
    expect(ids({ method: 'chip-bud' })).not.toContain('force-bud')
  })

  it('asks nothing for a dead graft', () => {
    for (const { key } of methods)
      expect(careSchedule({ ...whip, method: key, isAnyAlive: false })).toEqual([])
  })

  it('asks cuttings and layers for labels alone', () => {
    expect(ids({ method: 'hardwood-cutting' })).toEqual(['label', 'move-label'])
    expect(ids({ method: 'air-layer' })).toEqual(['label', 'move-label'])
  })

  it('has one task of each name and days in order, whatever was done when', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...methods.map(({ key }) => key)),
        fc.constantFrom(...wraps.map(({ key }) => key)),
        fc.nat(800),
        fc.constantFrom('north', 'south'),
        (method, wrap, day, hemisphere) => {
          const madeOn = addDays(civilDate('2024-01-01'), day)
          const tasks = careSchedule({ method, wrap, madeOn, hemisphere, isAnyAlive: true })
          expect(new Set(tasks.map(({ id }) => id)).size).toBe(tasks.length)
          for (const { openFrom, dueOn, overdueFrom } of tasks) {
            expect(madeOn <= openFrom && openFrom <= dueOn && dueOn < overdueFrom).toBe(true)
          }
        },
      ),
    )
  })
})

describe('how a task stands', () => {
  const task = taskOf('release-tie', { wrap: 'string' })
  const on = (days: number) => addDays(whip.madeOn, days)

  it('goes by its days', () => {
    expect([55, 56, 70, 71].map((days) => careStateOf(task, null, on(days)))).toEqual([
      'coming',
      'open',
      'open',
      'overdue-strong',
    ])
  })

  it('is settled when it is done or not needed', () => {
    expect(careStateOf(task, { state: 'done', until: null }, on(200))).toBe('settled')
    expect(careStateOf(task, { state: 'not-needed', until: null }, on(200))).toBe('settled')
  })

  it('comes back on the day it was put off to', () => {
    const deferred = { state: 'deferred', until: on(100) } as const
    expect([99, 100, 106, 107].map((days) => careStateOf(task, deferred, on(days)))).toEqual([
      'coming',
      'open',
      'open',
      'overdue-strong',
    ])
  })
})
