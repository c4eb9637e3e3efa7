import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { newcombeDifference } from '#lib/statistics/newcombe-difference.ts'
import { normalQuantile } from '#lib/statistics/normal-quantile.ts'
import { wilsonInterval } from '#lib/statistics/wilson-interval.ts'

const proportions = fc
  .tuple(fc.integer({ min: 1, max: 5000 }), fc.double({ min: 0, max: 1, noNaN: true }))
  .map(([trials, share]) => ({ successes: Math.round(share * trials), trials }))

describe('a normal quantile', () => {
  it('is infinite at 0 and 1, and 0 in the middle', () => {
    expect([0, 0.5, 1].map(normalQuantile)).toEqual([-Infinity, 0, Infinity])
  })

  it('refuses what is not a probability', () => {
    for (const p of [-0.001, 1.001, Number.NaN]) expect(() => normalQuantile(p)).toThrow(RangeError)
  })

  it('is symmetric and rises', () => {
    fc.assert(
      fc.property(fc.double({ min: 1e-9, max: 0.5, noNaN: true }), (p) => {
        expect(normalQuantile(1 - p)).toBeCloseTo(-normalQuantile(p), 6)
        expect(normalQuantile(p * 0.999)).toBeLessThan(normalQuantile(p))
      }),
    )
  })

  it('has no step where one approximation gives way to the next', () => {
    const farTailFrom = Math.exp(-25)
    for (const p of [0.075, 0.925, farTailFrom]) {
      const step = normalQuantile(p * (1 + 1e-12)) - normalQuantile(p * (1 - 1e-12))
      expect(Math.abs(step)).toBeLessThan(1e-10)
    }
  })
})

describe('a Wilson interval', () => {
  it('says nothing without trials', () => {
    expect(wilsonInterval(0, 0)).toEqual({ low: 0, high: 1 })
  })

  it('begins at exactly 0 when nothing took, and ends at exactly 1 when everything did', () => {
    expect(wilsonInterval(0, 7).low).toBe(0)
    expect(wilsonInterval(7, 7).high).toBe(1)
  })

  it('refuses counts that cannot be', () => {
    const impossible = [
      [-1, 5],
      [6, 5],
      [1.5, 5],
      [1, 5.5],
      [0, -1],
      [Number.NaN, 5],
      [1, Infinity],
    ] as const
    for (const [successes, trials] of impossible) {
      expect(() => wilsonInterval(successes, trials)).toThrow(RangeError)
    }
  })

  it('refuses a level that is not between 0 and 1', () => {
    for (const level of [0, 1, 95, Number.NaN]) expect(() => wilsonInterval(1, 5, level)).toThrow(RangeError)
  })

  it('holds the rate, stays within 0 and 1, mirrors for failures, and widens with the level', () => {
    fc.assert(
      fc.property(proportions, ({ successes, trials }) => {
        const { low, high } = wilsonInterval(successes, trials)
        const rate = successes / trials
        expect(low).toBeGreaterThanOrEqual(0)
        expect(high).toBeLessThanOrEqual(1)
        expect(low).toBeLessThanOrEqual(rate)
        expect(high).toBeGreaterThanOrEqual(rate)
        const failures = wilsonInterval(trials - successes, trials)
        expect(failures.low).toBeCloseTo(1 - high, 12)
        const wider = wilsonInterval(successes, trials, 0.99)
        expect(wider.high - wider.low).toBeGreaterThan(high - low)
      }),
    )
  })
})

describe('a difference of two rates', () => {
  it('turns its sign when the two change places', () => {
    fc.assert(
      fc.property(proportions, proportions, (a, b) => {
        const there = newcombeDifference(a, b)
        const back = newcombeDifference(b, a)
        expect(back.difference).toBeCloseTo(-there.difference, 12)
        expect(back.low).toBeCloseTo(-there.high, 12)
        expect(back.high).toBeCloseTo(-there.low, 12)
        expect(there.low).toBeLessThanOrEqual(there.difference)
        expect(there.high).toBeGreaterThanOrEqual(there.difference)
        expect(there.low).toBeGreaterThanOrEqual(-1 - 1e-12)
        expect(there.high).toBeLessThanOrEqual(1 + 1e-12)
      }),
    )
  })

  it('refuses a side without trials, and counts that cannot be', () => {
    const some = { successes: 1, trials: 2 }
    expect(() => newcombeDifference(some, { successes: 0, trials: 0 })).toThrow(RangeError)
    expect(() => newcombeDifference({ successes: 0, trials: 0 }, some)).toThrow(RangeError)
    expect(() => newcombeDifference({ successes: 3, trials: 2 }, some)).toThrow(RangeError)
  })
})
