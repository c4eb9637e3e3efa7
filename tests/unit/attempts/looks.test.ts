import { describe, expect, test } from 'vitest'
import { looksOf, nextLook, type Seen } from '#lib/attempts/next-look.ts'
import { standingCheck } from '#lib/attempts/standing-check.ts'
import { civilDate } from '#lib/kernel/civil-date.ts'

const seen = (fields: Partial<Seen> = {}): Seen => ({
  method: 'whip-and-tongue',
  madeOn: civilDate('2026-03-20'),
  lookedOn: [],
  isAnyAlive: true,
  ...fields,
})

const states = (of: Seen, today: string) =>
  looksOf(of, civilDate(today)).map(({ name, state }) => `${name} ${state}`)

describe('the looks that a graft asks for', () => {
  test('are all to come on the day it was made', () => {
    expect(looksOf(seen(), civilDate('2026-03-20'))).toEqual([
      { name: 'first', on: '2026-04-17', state: 'next' },
      { name: 'ninety-days', on: '2026-06-18', state: 'next' },
      { name: 'second-spring', on: '2027-05-01', state: 'next' },
    ])
  })

  test('the first is due after the method’s own time, and late two weeks on', () => {
    expect(states(seen(), '2026-04-16')[0]).toBe('first next')
    expect(states(seen(), '2026-04-17')[0]).toBe('first due')
    expect(states(seen(), '2026-05-01')[0]).toBe('first due')
    expect(states(seen(), '2026-05-02')[0]).toBe('first late')
    expect(looksOf(seen({ method: 'hardwood-cutting' }), civilDate('2026-04-17'))[0]).toMatchObject({
      on: '2026-05-15',
      state: 'next',
    })
  })

  test('any look is the first; a look a week early is the one of 90 days', () => {
    expect(states(seen({ lookedOn: [civilDate('2026-03-25')] }), '2026-04-20')).toEqual([
      'first done',
      'ninety-days next',
      'second-spring next',
    ])
    const lookedOn = [civilDate('2026-06-11')]
    expect(states(seen({ lookedOn }), '2026-06-20')).toContain('ninety-days done')
    expect(states(seen({ lookedOn: [civilDate('2026-06-10')] }), '2026-06-20')).toContain('ninety-days due')
  })

  test('end when nothing is alive', () => {
    const over = seen({ lookedOn: [civilDate('2026-04-20')], isAnyAlive: false })
    expect(states(over, '2026-08-01')).toEqual(['first done'])
    expect(nextLook(looksOf(over, civilDate('2026-08-01')))).toBeNull()
  })

  test('a later look that nobody made lapses; the first is asked for however long it takes', () => {
    const old = seen({ madeOn: civilDate('2023-03-20'), lookedOn: [civilDate('2023-04-20')] })
    expect(states(old, '2026-08-01')).toEqual(['first done'])
    expect(states(seen({ madeOn: civilDate('2023-03-20') }), '2026-08-01')).toEqual(['first late'])
  })

  test('what is due comes before what is to come', () => {
    expect(nextLook(looksOf(seen(), civilDate('2026-04-20')))).toMatchObject({ name: 'first', state: 'due' })
    expect(nextLook(looksOf(seen(), civilDate('2026-04-01')))).toMatchObject({ name: 'first', state: 'next' })
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
