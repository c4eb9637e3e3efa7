import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { summariseOutcomes } from '#lib/statistics/summarise-outcomes.ts'

const attempt = (alive: number, dead: number, unknown = 0, pending = 0) => ({
  pieces: alive + dead + unknown + pending,
  alive,
  dead,
  unknown,
  pending,
})

describe('a summary of outcomes', () => {
  it('adds attempts up and gives the rate of what is known', () => {
    expect(summariseOutcomes([attempt(3, 1), attempt(4, 0, 2, 5)])).toMatchObject({
      pieces: 15,
      alive: 7,
      dead: 1,
      known: 8,
      unknown: 2,
      pending: 5,
      rate: 0.875,
      worst: 0.7,
      best: 0.9,
      gate: { kind: 'shown' },
    })
  })

  it('gives no rate below five known outcomes, and says how many more it needs', () => {
    expect(summariseOutcomes([attempt(3, 1, 20, 20)])).toMatchObject({
      rate: null,
      interval: null,
      gate: { kind: 'not-enough', needs: 1 },
    })
    expect(summariseOutcomes([attempt(3, 2)])).toMatchObject({ rate: 0.6, gate: { kind: 'shown' } })
  })

  it('knows nothing of no attempts: anything from 0 to 1, five outcomes needed', () => {
    expect(summariseOutcomes([])).toEqual({
      pieces: 0,
      alive: 0,
      dead: 0,
      known: 0,
      unknown: 0,
      pending: 0,
      rate: null,
      interval: null,
      worst: 0,
      best: 1,
      reporting: null,
      figure: 'none',
      gate: { kind: 'not-enough', needs: 5 },
    })
  })

  it('lets the range stand for the rate above a fifth unknown, or where the unknown weigh more than chance', () => {
    const figure = (known: number, unknown: number) => {
      const taken = Math.round(known * 0.7)
      return summariseOutcomes([attempt(taken, known - taken, unknown)])
    }
    expect(figure(40, 10)).toMatchObject({ figure: 'rate', reporting: 0.8 })
    expect(figure(40, 11)).toMatchObject({ figure: 'range' })
    expect(figure(2000, 100)).toMatchObject({ figure: 'range' })
    expect(figure(2000, 40)).toMatchObject({ figure: 'rate' })
    expect(figure(3, 0)).toMatchObject({ figure: 'none' })
  })

  it('leaves pending pieces out of the bounds', () => {
    expect(summariseOutcomes([attempt(6, 4, 0, 90)])).toMatchObject({ worst: 0.6, best: 0.6 })
  })

  it('refuses an attempt whose outcomes do not add up to its pieces', () => {
    expect(() => summariseOutcomes([{ ...attempt(3, 1), pieces: 5 }])).toThrow(RangeError)
    expect(() => summariseOutcomes([attempt(3, -1)])).toThrow(RangeError)
    expect(() => summariseOutcomes([attempt(0.5, 0.5)])).toThrow(RangeError)
  })

  it('keeps the rate between the worst and the best, and does not mind the order of attempts', () => {
    const counts = fc.integer({ min: 0, max: 40 })
    const attempts = fc.array(
      fc.tuple(counts, counts, counts, counts).map(([a, d, u, p]) => attempt(a, d, u, p)),
    )
    fc.assert(
      fc.property(attempts, (list) => {
        const summary = summariseOutcomes(list)
        const { rate, worst, best } = summary
        expect(worst).toBeLessThanOrEqual(best)
        if (rate !== null) {
          expect(rate).toBeGreaterThanOrEqual(worst)
          expect(rate).toBeLessThanOrEqual(best)
        }
        expect(summariseOutcomes(list.toReversed())).toEqual(summary)
      }),
    )
  })
})
