import { describe, expect, it } from 'vitest'
import { type Random, seededRandom } from '#lib/kernel/seeded-random.ts'
import { pooledRates } from '#lib/statistics/pooled-rates.ts'

const count = (successes: number, trials: number) => ({ successes, trials })

/** A normal deviate from two uniform ones (Box and Muller 1958). */
const normal = ({ next }: Random) => Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next())

/** A gamma deviate (G. Marsaglia and W. W. Tsang 2000, ACM Trans Math Softw 26:363–372; below shape 1 by a power). */
function gamma(random: Random, shape: number): number {
  if (shape < 1) return gamma(random, shape + 1) * (1 - random.next()) ** (1 / shape)
  const d = shape - 1 / 3
  for (;;) {
    const x = normal(random)
    const v = (1 + x / Math.sqrt(9 * d)) ** 3
    if (v > 0 && Math.log(1 - random.next()) < (x * x) / 2 + d - d * v + d * Math.log(v)) return d * v
  }
}

/** A Poisson deviate, by waiting times. */
function poisson({ next }: Random, mean: number): number {
  let events = 0
  let time = -Math.log(1 - next())
  while (time < mean) {
    events++
    time -= Math.log(1 - next())
  }
  return events
}

function beta(random: Random, a: number, b: number): number {
  const x = gamma(random, a)
  return x / (x + gamma(random, b))
}

/** Sizes as in a group, many small and a few large: negative binomial of size 0.6 and mean 8, at least 1. */
const trialsOf = (random: Random) => Math.max(1, poisson(random, (gamma(random, 0.6) * 8) / 0.6))

/** Which share of intervals holds the truth, over many clubs of so many varieties. */
function coverage(varieties: number, clubs: number, rateOf: (random: Random) => number): number {
  const random = seededRandom(varieties)
  let held = 0
  let shown = 0
  for (let club = 0; club < clubs; club++) {
    const truths = Array.from({ length: varieties }, () => rateOf(random))
    const counts = truths.map((rate) => {
      const trials = trialsOf(random)
      return count(Array.from({ length: trials }, () => random.chance(rate)).filter(Boolean).length, trials)
    })
    const pooled = pooledRates(counts)
    if (pooled.kind !== 'pooled') continue
    for (const [i, { low, high }] of pooled.rates.entries()) {
      const truth = truths[i] ?? Number.NaN
      shown++
      if (low <= truth && truth <= high) held++
    }
  }
  return held / shown
}

describe('the shown interval of pooled rates', () => {
  const sizes = [
    { varieties: 6, clubs: 160 },
    { varieties: 25, clubs: 80 },
    { varieties: 100, clubs: 20 },
  ]
  for (const { varieties, clubs } of sizes) {
    it(`holds the true rate 93 to 97 times in 100 with ${varieties} varieties, rates from Beta(4.2, 1.8)`, () => {
      const share = coverage(varieties, clubs, (random) => beta(random, 4.2, 1.8))
      expect(share).toBeGreaterThanOrEqual(0.93)
      expect(share).toBeLessThanOrEqual(0.97)
    })
  }

  it('does so with 25 varieties of which a quarter are poor, though the model knows nothing of two kinds', () => {
    const twoKinds = (random: Random) =>
      1 / (1 + Math.exp(-((random.chance(0.25) ? -1.5 : 1.5) + 0.5 * normal(random))))
    const share = coverage(25, 80, twoKinds)
    expect(share).toBeGreaterThanOrEqual(0.93)
    expect(share).toBeLessThanOrEqual(0.97)
  })
})

describe('pooled rates', () => {
  const others = [count(45, 50), count(8, 10), count(0, 3), count(30, 60), count(1, 1), count(12, 20)]

  it('never let two of two outrank forty-five of fifty', () => {
    const pooled = pooledRates([count(2, 2), ...others])
    if (pooled.kind !== 'pooled') throw new Error('Not pooled')
    const [small, large] = pooled.rates
    expect(small?.mean).toBeLessThan(large?.mean ?? 0)
    expect((small?.high ?? 0) - (small?.low ?? 0)).toBeGreaterThan(0.3)
  })

  it('draw small records further towards the pool than large ones', () => {
    const pooled = pooledRates([count(1, 4), count(10, 40), ...others])
    if (pooled.kind !== 'pooled') throw new Error('Not pooled')
    const [small, large] = pooled.rates
    expect(small?.mean).toBeGreaterThan((large?.mean ?? 1) + 0.05)
    expect(large?.mean).toBeGreaterThan(0.25)
    expect(small?.mean).toBeLessThan(pooled.mean)
  })

  it('give a unit without trials the pool’s own mean and the range of a new unit', () => {
    const pooled = pooledRates([count(0, 0), ...others])
    if (pooled.kind !== 'pooled') throw new Error('Not pooled')
    expect(pooled.rates[0]).toEqual({ mean: pooled.mean, ...pooled.newUnit })
  })

  it('take counts that were divided by a design effect, and widen', () => {
    const whole = pooledRates(others)
    const divided = pooledRates(others.map(({ successes, trials }) => count(successes / 3, trials / 3)))
    if (whole.kind !== 'pooled' || divided.kind !== 'pooled') throw new Error('Not pooled')
    for (const [i, rate] of whole.rates.entries()) {
      const wider = divided.rates[i]
      expect((wider?.high ?? 0) - (wider?.low ?? 0)).toBeGreaterThan(rate.high - rate.low)
    }
  })

  it('stay finite and in order for large, certain and lopsided records', () => {
    const pooled = pooledRates([
      count(0, 100_000),
      count(100_000, 100_000),
      count(99_999, 100_000),
      ...others,
    ])
    if (pooled.kind !== 'pooled') throw new Error('Not pooled')
    for (const { mean, low, high } of pooled.rates) {
      expect(low).toBeLessThanOrEqual(mean)
      expect(mean).toBeLessThanOrEqual(high)
      expect([low, high].every((limit) => limit >= 0 && limit <= 1)).toBe(true)
    }
    expect(pooled.rates[0]?.high).toBeLessThan(1e-4)
    expect(pooled.rates[2]?.high).toBeGreaterThan(pooled.rates[2]?.low ?? 1)
  })

  it('are not pooled with fewer than five tried units, nor when none both took and failed', () => {
    expect(pooledRates([count(3, 5), count(2, 4), count(1, 3), count(5, 9), count(0, 0)]).kind).toBe(
      'not-pooled',
    )
    expect(pooledRates([1, 2, 3, 0, 2, 1].map((n) => count(n, n))).kind).toBe('not-pooled')
  })

  it('refuse impossible counts', () => {
    expect(() => pooledRates([count(3, 2)])).toThrow(RangeError)
    expect(() => pooledRates([count(Number.NaN, 2)])).toThrow(RangeError)
  })
})
