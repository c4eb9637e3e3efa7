import { describe, expect, it } from 'vitest'
import { newcombeDifference } from '#lib/statistics/newcombe-difference.ts'
import { normalQuantile } from '#lib/statistics/normal-quantile.ts'
import { summariseOutcomes } from '#lib/statistics/summarise-outcomes.ts'
import { wilsonInterval } from '#lib/statistics/wilson-interval.ts'
import newcombeR from './data/newcombe-r.json' with { type: 'json' }
import quantilesR from './data/normal-quantile-r.json' with { type: 'json' }
import quantilesScipy from './data/normal-quantile-scipy.json' with { type: 'json' }
import wilsonR from './data/wilson-r.json' with { type: 'json' }
import wilsonScipy from './data/wilson-scipy.json' with { type: 'json' }

/** The widest relative (or, near zero, absolute) distance that rounding in the last digits explains. */
function expectNear(actual: number, expected: number, tolerance: number, what: string) {
  const distance = Math.abs(actual - expected) / Math.max(1, Math.abs(expected))
  expect(distance, `${what}: ${actual} for ${expected}`).toBeLessThanOrEqual(tolerance)
}

describe('normal quantiles', () => {
  it(`agree to 14 digits with ${quantilesR.source}`, () => {
    for (const { p, q } of quantilesR.rows) expectNear(normalQuantile(p), q, 1e-14, `p = ${p}`)
  })

  it(`agree to 14 digits with ${quantilesScipy.source}, far into the tails`, () => {
    for (const { p, z } of quantilesScipy.rows) expectNear(normalQuantile(p), z, 1e-14, `p = ${p}`)
  })

  it('give the three check values printed in Wichura 1988, p. 478 (from memory)', () => {
    expectNear(normalQuantile(0.25), -0.6744897501960817, 1e-15, 'p = 0.25')
    expectNear(normalQuantile(0.001), -3.090232306167814, 1e-15, 'p = 0.001')
    expectNear(normalQuantile(1e-20), -9.262340089798409, 1e-15, 'p = 1e-20')
  })
})

describe('Wilson’s interval', () => {
  it(`agrees to 12 digits with ${wilsonR.source}`, () => {
    expect(wilsonR.rows).toHaveLength(17)
    for (const { k, n, low, high } of wilsonR.rows) {
      const interval = wilsonInterval(k, n)
      expectNear(interval.low, low, 1e-12, `low of ${k}/${n}`)
      expectNear(interval.high, high, 1e-12, `high of ${k}/${n}`)
    }
  })

  it(`agrees to 12 digits with ${wilsonScipy.source}, 34 pairs at 95, 90 and 80 %`, () => {
    expect(wilsonScipy.rows).toHaveLength(34 * 3)
    for (const { k, n, level, low, high } of wilsonScipy.rows) {
      const interval = wilsonInterval(k, n, level)
      expectNear(interval.low, low, 1e-12, `low of ${k}/${n} at ${level}`)
      expectNear(interval.high, high, 1e-12, `high of ${k}/${n} at ${level}`)
    }
  })

  it('gives the four-decimal limits of Newcombe 1998, Stat Med 17:857–872, Table I, method 3', () => {
    const table = [
      { k: 81, n: 263, low: 0.2553, high: 0.3662 },
      { k: 15, n: 148, low: 0.0624, high: 0.1605 },
      { k: 0, n: 20, low: 0, high: 0.1611 },
      { k: 1, n: 29, low: 0.0061, high: 0.1718 },
    ]
    for (const { k, n, low, high } of table) {
      const interval = wilsonInterval(k, n)
      expect(interval.low).toBeCloseTo(low, 4)
      expect(interval.high).toBeCloseTo(high, 4)
    }
  })
})

describe('Newcombe’s interval of a difference', () => {
  it(`agrees to 12 digits with ${newcombeR.source}`, () => {
    expect(newcombeR.rows).toHaveLength(7)
    for (const { name, k1, n1, k2, n2, difference, low, high } of newcombeR.rows) {
      const interval = newcombeDifference({ successes: k1, trials: n1 }, { successes: k2, trials: n2 })
      expectNear(interval.difference, difference, 1e-12, `difference of ${name}`)
      expectNear(interval.low, low, 1e-12, `low of ${name}`)
      expectNear(interval.high, high, 1e-12, `high of ${name}`)
    }
  })

  it('gives the four-decimal limits of Newcombe 1998, Stat Med 17:873–890, Table II, method 10', () => {
    // The paper was not opened; its digits as several public test files quote them.
    const rows = [
      { row: 'a', a: [56, 70], b: [48, 80], low: 0.0524, high: 0.3339 },
      { row: 'b', a: [9, 10], b: [3, 10], low: 0.1705, high: 0.809 },
      { row: 'c', a: [6, 7], b: [2, 7], low: 0.0582, high: 0.8062 },
      { row: 'd', a: [5, 56], b: [0, 29], low: -0.0381, high: 0.1926 },
      { row: 'e', a: [0, 10], b: [0, 20], low: -0.1611, high: 0.2775 },
      { row: 'f', a: [0, 10], b: [0, 10], low: -0.2775, high: 0.2775 },
      { row: 'g', a: [10, 10], b: [0, 20], low: 0.6791, high: 1 },
      { row: 'h', a: [10, 10], b: [0, 10], low: 0.6075, high: 1 },
    ] as const
    for (const { row, a, b, low, high } of rows) {
      const interval = newcombeDifference(
        { successes: a[0], trials: a[1] },
        { successes: b[0], trials: b[1] },
      )
      expect(interval.low, row).toBeCloseTo(low, 4)
      expect(interval.high, row).toBeCloseTo(high, 4)
    }
  })
})

describe('a rate with unknown outcomes', () => {
  it('lies between the bounds computed in R 4.2.2 for 12 took, 3 failed, 7 not known', () => {
    const counts = { pieces: 22, alive: 12, dead: 3, unknown: 7, pending: 0 }
    const { rate, interval, worst, best } = summariseOutcomes([counts])
    expect(rate).toBe(0.8)
    expect(interval?.low).toBeCloseTo(0.548145512848307, 12)
    expect(interval?.high).toBeCloseTo(0.929524506530184, 12)
    expect(worst).toBeCloseTo(0.545454545454545, 12)
    expect(best).toBeCloseTo(0.863636363636364, 12)
  })

  it('lies between the bounds computed in R 4.2.2 for 45 took, 5 failed, 10 not known', () => {
    const { worst, best } = summariseOutcomes([{ pieces: 60, alive: 45, dead: 5, unknown: 10, pending: 0 }])
    expect(worst).toBeCloseTo(0.75, 12)
    expect(best).toBeCloseTo(0.916666666666667, 12)
  })
})
