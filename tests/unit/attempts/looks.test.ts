import { describe, expect, test } from 'vitest'
import { hemisphereOf } from '#lib/attempts/hemisphere.ts'
import { looksOf, nextLook, type Seen } from '#lib/attempts/next-look.ts'
import { standingCheck } from '#lib/attempts/standing-check.ts'
import { civilDate } from '#lib/kernel/civil-date.ts'

const look = (on: string, checkpoint: string | null = null, state: string | null = null) => ({
  on: civilDate(on),
  checkpoint,
  state,
})

const seen = (fields: Partial<Seen> = {}): Seen => ({
  method: 'whip-and-tongue',
  madeOn: civilDate('2026-03-20'),
  hemisphere: 'north',
  looks: [],
  isAnyAlive: true,
  ...fields,
})

const states = (of: Seen, today: string) =>
  looksOf(of, civilDate(today)).map(({ name, state }) => `${name} ${state}`)

describe('the looks that a graft asks for', () => {
  test('are all to come on the day it was made', () => {
    expect(looksOf(seen(), civilDate('2026-03-20'))).toEqual([
      { name: 'thirty-days', on: '2026-04-19', state: 'next' },
      { name: 'ninety-days', on: '2026-06-18', state: 'next' },
      { name: 'leaf-fall', on: '2026-11-01', state: 'next' },
      { name: 'second-spring', on: '2027-05-01', state: 'next' },
      { name: 'first-fruit', on: '2027-09-01', state: 'next' },
      { name: 'later-failure', on: '2030-05-01', state: 'next' },
    ])
  })

  test('are other ones for a cutting, and six months away in the south', () => {
    const cutting = seen({ method: 'hardwood-cutting' })
    expect(looksOf(cutting, civilDate('2026-03-20')).map(({ name }) => name)).toEqual([
      'callused',
      'rooted',
      'potted',
      'established',
      'first-fruit',
    ])
    const southern = seen({ madeOn: civilDate('2026-09-20'), hemisphere: 'south' })
    expect(looksOf(southern, civilDate('2026-09-20'))[2]).toMatchObject({
      name: 'leaf-fall',
      on: '2027-05-01',
    })
  })

  test('the first is due after its time, and late two weeks on', () => {
    expect(states(seen(), '2026-04-18')[0]).toBe('thirty-days next')
    expect(states(seen(), '2026-04-19')[0]).toBe('thirty-days due')
    expect(states(seen(), '2026-05-03')[0]).toBe('thirty-days due')
    expect(states(seen(), '2026-05-04')[0]).toBe('thirty-days late')
  })

  test('any look is the first; a look a week early is the one of 90 days', () => {
    expect(states(seen({ looks: [look('2026-03-25')] }), '2026-04-20').slice(0, 3)).toEqual([
      'thirty-days done',
      'ninety-days next',
      'leaf-fall next',
    ])
    expect(states(seen({ looks: [look('2026-06-11')] }), '2026-06-20')).toContain('ninety-days done')
    expect(states(seen({ looks: [look('2026-06-10')] }), '2026-06-20')).toContain('ninety-days due')
  })

  test('a look answers the one that it names, however early it was', () => {
    const early = seen({ looks: [look('2026-06-01', 'ninety-days')] })
    expect(states(early, '2026-06-20')).toContain('ninety-days done')
    expect(states(early, '2026-11-10')).toContain('leaf-fall due')
  })

  test('end when nothing is alive', () => {
    const over = seen({ looks: [look('2026-04-20')], isAnyAlive: false })
    expect(states(over, '2026-08-01')).toEqual(['thirty-days done'])
    expect(nextLook(looksOf(over, civilDate('2026-08-01')))).toBeNull()
  })

  test('a later look that nobody made lapses; the first is asked for however long it takes', () => {
    const old = seen({ madeOn: civilDate('2023-03-20'), looks: [look('2023-04-20')] })
    expect(states(old, '2026-08-01')).toEqual(['thirty-days done', 'first-fruit next', 'later-failure next'])
    expect(states(seen({ madeOn: civilDate('2023-03-20') }), '2026-08-01')[0]).toBe('thirty-days late')
  })

  test('the first fruit is asked for each autumn until there was some', () => {
    const old = (looks: Seen['looks']) => seen({ madeOn: civilDate('2022-03-20'), looks })
    const fruit = (of: Seen, today: string) =>
      looksOf(of, civilDate(today)).find(({ name }) => name === 'first-fruit')
    const none = old([look('2024-09-20', 'first-fruit', 'no-fruit')])
    expect(fruit(none, '2024-10-01')?.state).toBe('done')
    expect(fruit(none, '2025-09-10')).toMatchObject({ on: '2025-09-01', state: 'due' })
    const some = old([look('2024-09-20', 'first-fruit', 'fruited')])
    expect(fruit(some, '2027-09-10')?.state).toBe('done')
  })

  test('a method that is not in the table any more is followed like a plain graft', () => {
    expect(states(seen({ method: 'forgotten' }), '2026-04-20')[0]).toBe('thirty-days due')
  })

  test('what is due comes before what is to come', () => {
    expect(nextLook(looksOf(seen(), civilDate('2026-04-20')))).toMatchObject({
      name: 'thirty-days',
      state: 'due',
    })
    expect(nextLook(looksOf(seen(), civilDate('2026-04-01')))).toMatchObject({
      name: 'thirty-days',
      state: 'next',
    })
  })
})

describe('the half of the year', () => {
  test.each([
    ['Europe/London', 'north'],
    ['America/New_York', 'north'],
    ['Australia/Hobart', 'south'],
    ['Pacific/Auckland', 'south'],
    ['America/Argentina/Mendoza', 'south'],
    ['UTC', 'north'],
  ])('%s: %s', (zone, half) => {
    expect(hemisphereOf(zone)).toBe(half)
  })
})

describe('the look that counts', () => {
  const check = (checkedOn: string, seq: number, isCorrected = false) => ({
    checkedOn: civilDate(checkedOn),
    seq,
    isCorrected,
  })

  test('is nobody’s while nobody has looked', () => {
    expect(standingCheck([])).toBeNull()
  })

  test('is the one of the latest day, of a day the one entered last, and never a corrected one', () => {
    expect(standingCheck([check('2026-05-01', 2), check('2026-04-01', 3)])?.seq).toBe(2)
    expect(standingCheck([check('2026-05-01', 1), check('2026-05-01', 2)])?.seq).toBe(2)
    expect(standingCheck([check('2026-05-01', 1, true), check('2026-04-01', 2)])?.seq).toBe(2)
  })
})
