import { describe, expect, it } from 'vitest'
import { aalenJohansen } from '#lib/statistics/aalen-johansen.ts'
import { kaplanMeier } from '#lib/statistics/kaplan-meier.ts'
import { logRank } from '#lib/statistics/log-rank.ts'
import { turnbull } from '#lib/statistics/turnbull.ts'
import survivalR from './data/survival-r.json' with { type: 'json' }
import { expectNear } from './expect-near.ts'

const { aml, competing, turnbull: looks } = survivalR
const everyone = [...aml.maintained.data, ...aml.nonmaintained.data]

describe(`Kaplan–Meier, by ${survivalR.source}`, () => {
  const sets = [
    { name: 'maintained', data: aml.maintained.data, published: aml.maintained },
    { name: 'not maintained', data: aml.nonmaintained.data, published: aml.nonmaintained },
    { name: 'all', data: everyone, published: aml.all },
  ]
  for (const { name, data, published } of sets) {
    it(`agrees on ${name} of ${aml.source}`, () => {
      const { steps, median, medianLimits } = kaplanMeier(data)
      expect(steps.map(({ time }) => time)).toEqual(published.time)
      expect(steps.map(({ atRisk }) => atRisk)).toEqual(published.atRisk)
      expect(steps.map(({ events }) => events)).toEqual(published.events)
      for (const [i, step] of steps.entries()) {
        expectNear(step.survival, published.survival[i] ?? NaN, 1e-12, `share at ${step.time}`)
        for (const part of ['standardError', 'low', 'high'] as const) {
          const expected = published[part][i] ?? null
          if (expected === null) expect(step[part]).toBeNull()
          else expectNear(step[part], expected, 1e-12, `${part} at ${step.time}`)
        }
      }
      expect(median).toBe(published.median)
      expect(medianLimits).toEqual({ low: published.medianLow, high: published.medianHigh })
    })
  }
})

it(`the log-rank test agrees on ${aml.source}`, () => {
  const result = logRank([aml.nonmaintained.data, aml.maintained.data])
  expectNear(result?.chiSquare, aml.logRank.chisq, 1e-12, 'χ²')
  expectNear(result?.p, aml.logRank.p, 1e-12, 'p')
  expect(result?.observed).toEqual(aml.logRank.obs)
  for (const [i, expected] of aml.logRank.exp.entries())
    expectNear(result?.expected[i], expected, 1e-12, 'expected')
})

describe(`Aalen–Johansen on ${competing.source}`, () => {
  const steps = aalenJohansen(competing.data)

  it('agrees with R’s multi-state survfit, standard errors included', () => {
    expect(steps.map(({ time }) => time)).toEqual(competing.time)
    for (const [i, { free, incidences }] of steps.entries()) {
      const [took, died] = incidences
      expectNear(free, competing.state_free[i] ?? NaN, 1e-12, `free at ${i}`)
      expectNear(took?.share, competing.cif_took[i] ?? NaN, 1e-12, `took at ${i}`)
      expectNear(died?.share, competing.cif_died[i] ?? NaN, 1e-12, `died at ${i}`)
      expectNear(took?.standardError, competing.se_took[i] ?? NaN, 1e-12, `error of took at ${i}`)
      expectNear(died?.standardError, competing.se_died[i] ?? NaN, 1e-12, `error of died at ${i}`)
    }
  })

  it('lies below what Kaplan–Meier makes of the same records when deaths are left out of watch', () => {
    const naive = kaplanMeier(competing.data.map(({ time, event }) => ({ time, event: event === 1 })))
    const last = naive.steps.at(-1)
    expectNear(1 - (last?.survival ?? NaN), competing.naive.at(-1) ?? NaN, 1e-12, 'naive')
    expect(steps.at(-1)?.incidences[0]?.share).toBeLessThan(1 - (last?.survival ?? NaN))
  })
})

it(`Turnbull’s estimate agrees with R on ${looks.source}`, () => {
  const steps = turnbull(looks.data)
  const survivalAfter = (time: number) =>
    steps.filter(({ by }) => by !== null && by <= time).at(-1)?.survival ?? 1
  // R reports the middle of each interval and, between two that share their end, the end itself.
  const ends = [7, 14, 14, 21, 28, 28, 35]
  for (const [i, expected] of looks.survival.entries()) {
    expectNear(survivalAfter(ends[i] ?? NaN), expected, 1e-6, `share at ${looks.time[i]}`)
  }
})
