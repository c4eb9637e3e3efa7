import { describe, expect, it } from 'vitest'
import { seededRandom } from '#lib/kernel/seeded-random.ts'
import { fitLogit } from '#lib/statistics/fit-logit.ts'
import { fitMixedLogit } from '#lib/statistics/fit-mixed-logit.ts'
import { mixedLogitData } from '#tests/bench/mixed-logit-data.ts'

const small = () => {
  const data = mixedLogitData(600, 20, 12)
  return {
    successes: data.successes,
    trials: data.trials,
    fixed: data.methods.map((method, i) => [1, Number(method === 1), data.weeks[i] ?? 0]),
    groupings: [data.varieties, data.growers],
  }
}

describe('a mixed logit', () => {
  it('does not mind in which order rows and groupings come, nor rows split in two', () => {
    const input = small()
    const fit = fitMixedLogit(input)
    const backwards = fitMixedLogit({
      successes: input.successes.toReversed(),
      trials: input.trials.toReversed(),
      fixed: input.fixed.toReversed(),
      groupings: input.groupings.toReversed().map((levels) => levels.toReversed()),
    })
    const twice = <T>(list: readonly T[]) => [...list, ...list]
    const split = fitMixedLogit({
      successes: [...input.successes, ...input.trials.map(() => 0)],
      trials: [...input.successes, ...input.trials.map((n, i) => n - (input.successes[i] ?? 0))],
      fixed: twice(input.fixed),
      groupings: input.groupings.map(twice),
    })
    for (const [i, { estimate, standardError }] of fit.coefficients.entries()) {
      for (const other of [backwards, split]) {
        expect(other.coefficients[i]?.estimate).toBeCloseTo(estimate, 7)
        expect(other.coefficients[i]?.standardError).toBeCloseTo(standardError, 6)
      }
    }
    expect(backwards.standardDeviations.toReversed()[0]).toBeCloseTo(fit.standardDeviations[0] ?? 0, 7)
    expect(backwards.modes[1]?.[3]).toBeCloseTo(fit.modes[0]?.[3] ?? 0, 6)
  })

  it('can be sent to a worker thread and back', () => {
    const input = structuredClone(small())
    const fit = fitMixedLogit(input)
    expect(structuredClone(fit)).toEqual(fit)
  })

  it('without groupings is the plain regression', () => {
    const { groupings, ...plain } = small()
    expect(groupings).toHaveLength(2)
    expect(fitMixedLogit({ ...plain, groupings: [] })).toMatchObject({
      coefficients: fitLogit(plain).coefficients,
      standardDeviations: [],
      modes: [],
    })
  })

  it('finds the truth again in outcomes made with it', () => {
    const data = mixedLogitData(6000, 200, 80)
    const fixed = data.methods.map((m, i) => [1, +(m === 1), +(m === 2), +(m === 3), data.weeks[i] ?? 0])
    const fit = fitMixedLogit({ ...data, fixed, groupings: [data.varieties, data.growers] })
    for (const [i, truth] of [1.2, -0.5, 0.3, -0.2, -0.06].entries()) {
      const { estimate, standardError } = fit.coefficients[i] ?? { estimate: Number.NaN, standardError: 0 }
      expect(Math.abs(estimate - truth) / standardError).toBeLessThan(3.5)
    }
    expect(Math.abs((fit.standardDeviations[0] ?? 0) - 0.8)).toBeLessThan(0.15)
    expect(Math.abs((fit.standardDeviations[1] ?? 0) - 0.5)).toBeLessThan(0.15)
  })

  it('gives exactly 0 to a grouping that makes no difference, beside one that does', () => {
    const random = seededRandom(11)
    const cells = Array.from({ length: 400 }, (_, i) => ({ variety: i % 20, grower: random.integer(0, 9) }))
    // Every grower has the same share of each variety's outcomes, less spread than chance would give.
    const input = {
      successes: cells.map(({ variety }) => (variety < 10 ? 8 : 3)),
      trials: cells.map(() => 10),
      fixed: cells.map(() => [1]),
      groupings: [cells.map(({ variety }) => variety), cells.map(({ grower }) => grower)],
    }
    const fit = fitMixedLogit(input)
    expect(fit.converged).toBe(true)
    expect(fit.standardDeviations[0]).toBeGreaterThan(0.5)
    expect(fit.standardDeviations[1]).toBe(0)
    expect(fit.modes[1]?.every((mode) => mode === 0)).toBe(true)
  })

  it('names a separated column instead of breaking, and a prior holds it', () => {
    const input = small()
    // One method of which nothing ever took.
    const separated = {
      ...input,
      successes: input.successes.map((k, i) => (input.fixed[i]?.[1] === 1 ? 0 : k)),
    }
    const fit = fitMixedLogit(separated)
    expect(fit).toMatchObject({ converged: false, unbounded: [1] })
    expect(fit.coefficients.every(({ estimate }) => Number.isFinite(estimate))).toBe(true)
    const held = fitMixedLogit({ ...separated, priorStandardDeviations: [null, 2.5, null] })
    expect(held).toMatchObject({ converged: true, unbounded: [] })
    expect(held.coefficients[1]?.estimate).toBeLessThan(-4)
    expect(fitLogit(separated)).toMatchObject({ converged: false, unbounded: [1] })
  })

  it('refuses rows that do not belong together, impossible counts and dependent columns', () => {
    const input = small()
    expect(() => fitMixedLogit({ ...input, trials: [1] })).toThrow(RangeError)
    expect(() => fitMixedLogit({ ...input, groupings: [[0]] })).toThrow(RangeError)
    expect(() => fitMixedLogit({ ...input, successes: input.trials.map((n) => n + 1) })).toThrow(RangeError)
    expect(() => fitMixedLogit({ ...input, fixed: input.fixed.map(() => [1, 1]) })).toThrow(RangeError)
    expect(() => fitMixedLogit({ ...input, priorStandardDeviations: [1] })).toThrow(RangeError)
    expect(() => fitMixedLogit({ ...input, groupings: [input.trials.map(() => 0.5)] })).toThrow(RangeError)
  })
})
