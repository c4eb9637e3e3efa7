import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { civilDate } from '#lib/kernel/civil-date.ts'
import { seededRandom } from '#lib/kernel/seeded-random.ts'
import { batchCorrelation } from '#lib/statistics/batch-correlation.ts'
import { dataGate } from '#lib/statistics/data-gate.ts'
import { designEffect } from '#lib/statistics/design-effect.ts'
import { outcomeAtCheckpoint } from '#lib/statistics/outcome-at-checkpoint.ts'
import { rankBands } from '#lib/statistics/rank-bands.ts'
import { summariseOutcomes } from '#lib/statistics/summarise-outcomes.ts'

const evidence = { successes: 0, known: 0, designEffect: 1, growers: 3, batches: 3 }

describe('the data gate', () => {
  it('steps up with the width of the interval, at 70 %', () => {
    const kinds = [0, 4, 10, 30, 60].map(
      (known) => dataGate({ ...evidence, successes: 0.7 * known, known }).kind,
    )
    expect(kinds).toEqual(['not-enough', 'not-enough', 'early-sign', 'fair-idea', 'well-tested'])
  })

  it('shows counts, then a range, then a rate, and ranks rates only', () => {
    const shown = [4, 10, 30].map((known) => dataGate({ ...evidence, successes: 0.7 * known, known }))
    expect(shown.map(({ shows }) => shows)).toEqual(['counts', 'range', 'rate'])
    expect(shown.map(({ isRanked }) => isRanked)).toEqual([false, false, true])
  })

  it('calls nothing well tested that one grower or one batch has shown', () => {
    const many = { ...evidence, successes: 90, known: 100 }
    expect(dataGate({ ...many, growers: 1 }).kind).toBe('fair-idea')
    expect(dataGate({ ...many, batches: 1 }).kind).toBe('fair-idea')
    expect(dataGate(many).kind).toBe('well-tested')
  })

  it('asks for more when pieces came in batches', () => {
    const forty = { ...evidence, successes: 28, known: 40 }
    expect(dataGate(forty).kind).toBe('fair-idea')
    expect(dataGate({ ...forty, designEffect: 4 }).kind).toBe('early-sign')
  })

  it('says how many more outcomes the next step needs, and one fewer would not do', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 12 }), fc.integer({ min: 0, max: 12 }), (took, failed) => {
        const known = took + failed
        const gate = dataGate({ ...evidence, successes: took, known })
        if (gate.kind === 'fair-idea' || gate.kind === 'well-tested') {
          expect(gate.needs).toBe(0)
          return
        }
        expect(gate.needs).toBeGreaterThan(0)
        const rate = known === 0 ? 0.5 : took / known
        const kindWith = (more: number) =>
          dataGate({ ...evidence, successes: rate * (known + more), known: known + more }).kind
        expect(kindWith(gate.needs)).not.toBe(gate.kind)
        expect(kindWith(gate.needs - 1)).toBe(gate.kind)
      }),
    )
  })

  it('refuses what cannot stand behind a rate', () => {
    expect(() => dataGate({ ...evidence, successes: 3, known: 2 })).toThrow(RangeError)
    expect(() => dataGate({ ...evidence, designEffect: 0.5 })).toThrow(RangeError)
  })
})

describe('the design effect', () => {
  it('is 1 for single pieces and for batches that share nothing, and the size for those that share all', () => {
    expect(designEffect([1, 1, 1], 0.4)).toBe(1)
    expect(designEffect([5, 7], 0)).toBe(1)
    expect(designEffect([8, 8], 1)).toBe(8)
    expect(designEffect([], 0.3)).toBe(1)
  })

  it('refuses what is no batch and no correlation', () => {
    expect(() => designEffect([1.5], 0.1)).toThrow(RangeError)
    expect(() => designEffect([5], 1.1)).toThrow(RangeError)
  })
})

describe('the correlation of batches', () => {
  it('is assumed below thirty pairs of batches', () => {
    expect(batchCorrelation([[{ successes: 1, trials: 9 }], []])).toEqual({ rho: 0.1, isAssumed: true })
  })

  it('is found again in batches made with it', () => {
    const random = seededRandom(7)
    // A batch takes as a whole with chance rho, each piece for itself otherwise: the correlation of two pieces is rho.
    const batch = (rate: number, rho: number) => {
      const asOne = random.chance(rate)
      const took = Array.from({ length: 10 }, () =>
        random.chance(Math.sqrt(rho)) ? asOne : random.chance(rate),
      )
      return { successes: took.filter(Boolean).length, trials: 10 }
    }
    for (const rho of [0, 0.2, 0.5]) {
      const groups = [0.3, 0.5, 0.7, 0.8].map((rate) => Array.from({ length: 200 }, () => batch(rate, rho)))
      const found = batchCorrelation(groups)
      expect(found.isAssumed).toBe(false)
      expect(Math.abs(found.rho - rho)).toBeLessThan(0.05)
    }
  })
})

describe('rank bands', () => {
  const rate = (mean: number, low: number, high: number) => ({ mean, low, high })

  it('are shared where ranges overlap that of the best', () => {
    expect(rankBands([rate(0.89, 0.79, 0.96), rate(0.51, 0.39, 0.63), rate(0.92, 0.77, 0.99)])).toEqual([
      1, 2, 1,
    ])
  })

  it('are one band when everything overlaps, and none without rates', () => {
    expect(rankBands([rate(0.6, 0.4, 0.8), rate(0.7, 0.5, 0.9)])).toEqual([1, 1])
    expect(rankBands([])).toEqual([])
  })
})

describe('an outcome at a checkpoint', () => {
  const day = civilDate
  const checkpoint = { opensAfterDays: 30, closesAfterDays: 90 }
  const look = (on: string, alive: number, dead: number, unknown = 0) => ({
    on: day(on),
    alive,
    dead,
    unknown,
  })
  const attempt = (...looks: ReturnType<typeof look>[]) => ({ madeOn: day('2026-03-01'), pieces: 4, looks })
  const closed = day('2026-06-30')
  const at = (today: string, ...looks: ReturnType<typeof look>[]) =>
    outcomeAtCheckpoint(attempt(...looks), checkpoint, day(today))

  it('is pending until the window has closed, whatever was told before', () => {
    expect(at('2026-05-30', look('2026-04-20', 4, 0))).toMatchObject({ pending: 4, alive: 0 })
    expect(at('2026-05-31', look('2026-04-20', 4, 0))).toMatchObject({ pending: 0, alive: 4 })
  })

  it('is the last look within the window, and what died later changes nothing', () => {
    expect(
      at(closed, look('2026-05-20', 3, 1), look('2026-04-10', 4, 0), look('2026-06-20', 0, 4)),
    ).toMatchObject({
      alive: 3,
      dead: 1,
      unknown: 0,
    })
  })

  it('is the first look after the window where nobody looked within, the last of that day', () => {
    expect(
      at(closed, look('2026-06-10', 1, 3), look('2026-06-10', 2, 2), look('2026-06-20', 0, 4)),
    ).toMatchObject({
      alive: 2,
      dead: 2,
    })
  })

  it('counts what nobody has seen as unknown, never as failed; what was dead early stays dead', () => {
    expect(at(closed)).toMatchObject({ unknown: 4, dead: 0, pending: 0 })
    expect(at(closed, look('2026-03-15', 3, 1))).toMatchObject({ dead: 1, unknown: 3, alive: 0 })
  })

  it('keeps early takes from flattering a season in which seven of ten take', () => {
    // Takes are told on day 35, failures on day 80; batches are made one a day.
    const start = Date.UTC(2026, 2, 1)
    const made = (i: number) => new Date(start + i * 86_400_000).toISOString().slice(0, 10)
    const told = (i: number, today: string) => {
      const isTake = i % 10 < 7
      const on = made(i + (isTake ? 35 : 80))
      return {
        madeOn: day(made(i)),
        pieces: 1,
        looks: on <= today ? [look(on, isTake ? 1 : 0, isTake ? 0 : 1)] : [],
      }
    }
    const today = made(130)
    const attempts = Array.from({ length: 120 }, (_, i) => told(i, today))
    const naive = attempts.flatMap(({ looks }) => looks)
    const naiveRate = naive.filter(({ alive }) => alive === 1).length / naive.length
    expect(naiveRate).toBeGreaterThan(0.77)
    const matured = summariseOutcomes(attempts.map((own) => outcomeAtCheckpoint(own, checkpoint, day(today))))
    expect(matured.rate).toBeCloseTo(0.7, 10)
    expect(matured.pending).toBeGreaterThan(0)
  })

  it('refuses a look that does not add up to the pieces', () => {
    expect(() => at(closed, look('2026-05-20', 3, 0))).toThrow(RangeError)
  })
})
