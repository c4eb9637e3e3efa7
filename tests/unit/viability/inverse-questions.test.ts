import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { required } from '#lib/kernel/assert.ts'
import { type CutDatesInput, cutDatesFor } from '#lib/viability/latest-cut-date.ts'
import { sticksNeeded } from '#lib/viability/sticks-needed.ts'
import { type StorageProfile, storageProfiles } from '#lib/viability/storage-profiles.ts'
import { viabilityWindow } from '#lib/viability/viability-window.ts'
import { type WarmestStorageInput, warmestStorageFor } from '#lib/viability/warmest-storage.ts'
import { windowState } from '#lib/viability/window-state.ts'
import { afterDays, cutAt, dayMs, daysOf, windowOf } from '#tests/unit/viability/stints.ts'

const { apple, avocado, citrus_budwood } = storageProfiles
const profiles = fc.constantFrom<StorageProfile>(...Object.values(storageProfiles))
const neededAt = new Date('2026-03-14T12:00:00Z')

describe('the dates to cut between', () => {
  const datesFor = (more: Partial<CutDatesInput> = {}) => {
    const answer = cutDatesFor({ profile: apple, neededAt, celsius: 4, ...more })
    return required(answer.kind === 'cut-dates' ? answer : null, `dates, not ${JSON.stringify(answer)}`)
  }
  const stateOfWoodCut = (cut: Date, profile: StorageProfile, celsius: number) => {
    const window = viabilityWindow({ profile, cutAt: cut, asOf: cut, stints: [], keptAt: celsius })
    if (window.kind !== 'window') return window.reason
    return windowState({ early: window.early.at, likely: window.likely.at, late: window.late.at }, neededAt)
  }

  it('reach back from the day as far as apple keeps at 4 °C: 70, 125 and 218 days', () => {
    const { good, soon, test } = datesFor()
    const back = [good, soon, test].map((range) =>
      Math.round((neededAt.getTime() - required(range, 'a range').from.getTime()) / dayMs),
    )
    expect(back).toEqual([70, 125, 218])
    for (const range of [good, soon, test]) expect(range?.until).toEqual(neededAt)
  })

  it('are exactly those at which the wood is still good, or usable, on the day', () => {
    const minute = 60_000
    fc.assert(
      fc.property(profiles, fc.double({ min: -2, max: 20, noNaN: true }), (profile, celsius) => {
        const { good, soon, test } = datesFor({ profile, celsius })
        for (const [range, inside, before] of [
          [good, 'good', 'soon'],
          [soon, 'soon', 'test'],
          [test, 'test', 'past'],
        ] as const) {
          const from = required(range, 'a range').from
          expect(stateOfWoodCut(from, profile, celsius)).toBe(inside)
          expect(stateOfWoodCut(new Date(from.getTime() - minute), profile, celsius)).toBe(before)
        }
      }),
    )
  })

  it('keep within dormancy where that is known', () => {
    const dormantFrom = new Date('2026-01-01T12:00:00Z')
    const dormantUntil = new Date('2026-02-20T12:00:00Z')
    const { good, test } = datesFor({ dormantFrom, dormantUntil })
    expect(good).toMatchObject({ until: dormantUntil })
    expect(required(good, 'a range').from.getTime()).toBeGreaterThan(dormantFrom.getTime())
    expect(test).toEqual({ from: dormantFrom, until: dormantUntil })
  })

  it('are none when dormancy ends too long before the day', () => {
    const { good, soon } = datesFor({ dormantUntil: new Date('2025-12-20T12:00:00Z') })
    expect(good).toBeNull()
    expect(soon).not.toBeNull()
  })

  it('are none for wood whose buds are open', () => {
    expect(datesFor({ budStage: 10 })).toMatchObject({ good: null, soon: null, test: null })
  })

  it('leave bare sticks six days', () => {
    const { good } = datesFor({ packaging: 'bare' })
    expect(Math.round((neededAt.getTime() - required(good, 'a range').from.getTime()) / dayMs)).toBe(6)
  })

  it('come with what must be told of such a store', () => {
    expect(datesFor({ profile: avocado, celsius: 2 }).flags).toContain('too-cold-for-evergreen')
  })

  it('are refused for a store that cannot be, and for a day that is none', () => {
    expect(cutDatesFor({ profile: apple, neededAt, celsius: -80 })).toMatchObject({
      kind: 'refused',
      reason: 'absurd-temperature',
    })
    const never = new Date(Number.NaN)
    for (const odd of [{ neededAt: never }, { dormantFrom: never }, { dormantUntil: never }]) {
      expect(cutDatesFor({ profile: apple, neededAt, celsius: 4, ...odd })).toMatchObject({
        reason: 'not-a-date',
      })
    }
  })
})

describe('the temperature needed', () => {
  const warmestFor = (days: number, more: Partial<WarmestStorageInput> = {}) =>
    warmestStorageFor({ profile: apple, cutAt, neededAt: afterDays(days), ...more })

  it('is the warmest tenth of a degree at which the wood has not reached its early limit', () => {
    fc.assert(
      fc.property(profiles, fc.integer({ min: 0, max: 200 }), (profile, days) => {
        const answer = warmestFor(days, { profile })
        if (answer.kind !== 'celsius') return
        const keeps = (celsius: number) => daysOf(windowOf(profile, [], { keptAt: celsius })).early
        expect(keeps(answer.celsius)).toBeGreaterThan(days)
        if (answer.celsius < 25) expect(keeps(answer.celsius + 0.1)).toBeLessThanOrEqual(days)
      }),
    )
  })

  it('is 4 °C or just under for apple that has to be good for 69 days', () => {
    expect(warmestFor(69)).toEqual({ kind: 'celsius', celsius: 4 })
  })

  it('is warmer for wood that may be past its early limit', () => {
    const celsius = (before: 'early' | 'likely' | 'late') => {
      const answer = warmestFor(69, { before })
      return answer.kind === 'celsius' ? answer.celsius : Number.NaN
    }
    expect(celsius('likely')).toBeGreaterThan(celsius('early'))
    expect(celsius('late')).toBeGreaterThan(celsius('likely'))
  })

  it('is nowhere when even the coldest store that suits the wood is not enough', () => {
    expect(warmestFor(200)).toEqual({
      kind: 'not-long-enough',
      coldestC: -2,
      keepsUntil: windowOf(apple, [], { keptAt: -2 }).early.at,
    })
    expect(warmestFor(90, { profile: citrus_budwood })).toMatchObject({ coldestC: 4 })
  })

  it('does not go above 25 °C, however soon the wood is wanted', () => {
    expect(warmestFor(0)).toEqual({ kind: 'celsius', celsius: 25 })
  })

  it('is refused for a day before the cut, or none', () => {
    expect(warmestFor(-1)).toMatchObject({ kind: 'refused', reason: 'cut-in-future' })
    expect(warmestFor(Number.NaN)).toMatchObject({ kind: 'refused', reason: 'not-a-date' })
    expect(warmestFor(10, { budStage: 200 })).toMatchObject({ kind: 'refused', reason: 'not-a-bud-stage' })
  })
})

describe('the sticks needed', () => {
  it('are the fewest with the wanted chance that one takes', () => {
    // 1 − 0.4^2 = 0.84 and 1 − 0.4^3 = 0.936, by hand.
    expect(sticksNeeded(0.6, 0.9)).toBe(3)
    expect(sticksNeeded(0.6, 0.84)).toBe(2)
    expect(sticksNeeded(0.5, 0.9)).toBe(4)
    expect(sticksNeeded(0.05, 0.9)).toBe(45)
    expect(sticksNeeded(0.6)).toBe(3)
  })

  it('do not grow by one because a power is not exact', () => {
    expect(sticksNeeded(0.9, 0.99)).toBe(2)
    expect(sticksNeeded(0.9, 0.999)).toBe(3)
    expect(sticksNeeded(0.1, 1 - 0.9 ** 7)).toBe(7)
  })

  it('are enough, and one fewer is not', () => {
    const share = fc.double({ min: 0.001, max: 0.999, noNaN: true })
    fc.assert(
      fc.property(share, share, (rate, confidence) => {
        const sticks = sticksNeeded(rate, confidence)
        const chance = (n: number) => 1 - (1 - rate) ** n
        expect(chance(sticks)).toBeGreaterThanOrEqual(confidence - 1e-9)
        expect(chance(sticks - 1)).toBeLessThan(confidence)
      }),
    )
  })

  it('are one when all take, none when no chance is wanted, and without end where no number is enough', () => {
    expect(sticksNeeded(1, 0.9)).toBe(1)
    expect(sticksNeeded(1, 1)).toBe(1)
    expect(sticksNeeded(0.5, 0)).toBe(0)
    expect(sticksNeeded(0, 0.9)).toBe(Infinity)
    expect(sticksNeeded(0.5, 1)).toBe(Infinity)
    expect(sticksNeeded(Number.MIN_VALUE, 0.9)).toBeGreaterThan(1e300)
  })

  it('are refused for what is no share', () => {
    for (const odd of [-0.1, 1.1, Number.NaN, Infinity]) {
      expect(() => sticksNeeded(odd, 0.9)).toThrow(RangeError)
      expect(() => sticksNeeded(0.5, odd)).toThrow(RangeError)
    }
  })
})
