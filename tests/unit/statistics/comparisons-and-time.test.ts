import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { aalenJohansen } from '#lib/statistics/aalen-johansen.ts'
import { benjaminiHochberg } from '#lib/statistics/benjamini-hochberg.ts'
import { breslowDay } from '#lib/statistics/breslow-day.ts'
import { brierScore } from '#lib/statistics/brier-score.ts'
import { calibrationBins } from '#lib/statistics/calibration-bins.ts'
import { calibrationLine } from '#lib/statistics/calibration-line.ts'
import { clopperPearsonInterval } from '#lib/statistics/clopper-pearson-interval.ts'
import { fitBetaBinomial } from '#lib/statistics/fit-beta-binomial.ts'
import { funnelLimits } from '#lib/statistics/funnel-limits.ts'
import { jeffreysInterval } from '#lib/statistics/jeffreys-interval.ts'
import { kaplanMeier } from '#lib/statistics/kaplan-meier.ts'
import { logRank } from '#lib/statistics/log-rank.ts'
import { mantelHaenszel } from '#lib/statistics/mantel-haenszel.ts'
import { rateCrossing } from '#lib/statistics/rate-crossing.ts'
import { turnbull } from '#lib/statistics/turnbull.ts'

describe('Mantel and Haenszel', () => {
  it('find nothing where no stratum tried both, and are the plain odds ratio in one stratum', () => {
    expect(mantelHaenszel([])).toBeNull()
    const oneSided = [
      [3, 1],
      [0, 0],
    ] as const
    expect(mantelHaenszel([oneSided])).toBeNull()
    const plain = [
      [8, 2],
      [4, 6],
    ] as const
    const result = mantelHaenszel([plain, oneSided])
    expect(result?.oddsRatio).toBeCloseTo(6, 12)
    expect(result?.riskDifference.difference).toBeCloseTo(0.4, 12)
    expect(result).toMatchObject({ strata: 1, trials: 20 })
  })

  it('see through a mix that turns the lumped rates round', () => {
    // The first method is better in both, but was used for the harder one.
    const easy = [
      [9, 1],
      [80, 20],
    ] as const
    const hard = [
      [40, 60],
      [3, 7],
    ] as const
    expect(49 / 110).toBeLessThan(83 / 110)
    expect(mantelHaenszel([easy, hard])?.riskDifference.difference).toBeGreaterThan(0)
  })

  it('claim no limits where one side always took', () => {
    const result = mantelHaenszel([
      [
        [5, 0],
        [3, 2],
      ],
    ])
    expect(result).toMatchObject({ oddsRatio: Infinity, low: 0, high: Infinity })
    expect(() =>
      mantelHaenszel([
        [
          [-1, 2],
          [1, 1],
        ],
      ]),
    ).toThrow(RangeError)
  })
})

it('Breslow and Day need two telling strata and a finite odds ratio', () => {
  const stratum = [
    [5, 5],
    [3, 7],
  ] as const
  expect(breslowDay([stratum])).toBeNull()
  expect(breslowDay([stratum, stratum])?.chiSquare).toBeCloseTo(0, 12)
  const certain = [
    [5, 0],
    [3, 2],
  ] as const
  expect(breslowDay([certain, certain])).toBeNull()
})

it('adjusted p-values keep their order and never fall', () => {
  const pValues = fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { maxLength: 30 })
  fc.assert(
    fc.property(pValues, (list) => {
      const adjusted = benjaminiHochberg(list)
      for (const [i, p] of list.entries()) {
        expect(adjusted[i]).toBeGreaterThanOrEqual(p)
        expect(adjusted[i]).toBeLessThanOrEqual(1)
        for (const [j, other] of list.entries()) {
          if (p < other) expect(adjusted[i]).toBeLessThanOrEqual(adjusted[j] ?? 0)
        }
      }
    }),
  )
  expect(() => benjaminiHochberg([1.2])).toThrow(RangeError)
})

it('exact intervals hold Jeffreys’ ones, and both say nothing without trials', () => {
  for (const interval of [clopperPearsonInterval, jeffreysInterval]) {
    expect(interval(0, 0)).toEqual({ low: 0, high: 1 })
    expect(() => interval(2, 1)).toThrow(RangeError)
    expect(() => interval(1, 2, 1)).toThrow(RangeError)
  }
  fc.assert(
    fc.property(
      fc.integer({ min: 1, max: 60 }),
      fc.double({ min: 0, max: 1, noNaN: true }),
      (trials, share) => {
        const took = Math.round(trials * share)
        expect(clopperPearsonInterval(took, trials).low).toBeLessThanOrEqual(
          jeffreysInterval(took, trials).low + 1e-9,
        )
        expect(clopperPearsonInterval(took, trials).high).toBeGreaterThanOrEqual(
          jeffreysInterval(took, trials).high - 1e-9,
        )
      },
    ),
  )
})

describe('a beta-binomial fit', () => {
  it('has rho 0 where units differ no more than chance makes them, or not at all', () => {
    const alike = [5, 5, 5].map((successes) => ({ successes, trials: 10 }))
    expect(fitBetaBinomial(alike)).toMatchObject({ mean: 0.5, rho: 0, alpha: Infinity })
    const certain = fitBetaBinomial([{ successes: 4, trials: 4 }])
    expect(certain).toMatchObject({ mean: 1, rho: 0, logLikelihood: 0 })
    expect(certain.posterior(0)).toEqual({ mean: 1, low: 1, high: 1 })
  })

  it('needs a trial, and knows its units', () => {
    expect(() => fitBetaBinomial([])).toThrow(RangeError)
    const fit = fitBetaBinomial([0, 10, 3, 9].map((successes) => ({ successes, trials: 10 })))
    expect(() => fit.posterior(4)).toThrow(RangeError)
  })
})

describe('survival', () => {
  const seen = (time: number, event: boolean | number) => ({ time, event })

  it('is the plain share where everybody was watched to the end', () => {
    const { steps, median } = kaplanMeier([seen(1, true), seen(2, true), seen(3, true), seen(4, true)])
    expect(steps.map(({ survival }) => survival)).toEqual([0.75, 0.5, 0.25, 0])
    expect(median).toBe(2.5)
    expect(steps.at(-1)).toMatchObject({ low: null, high: null, standardError: null })
  })

  it('has no median when half never came to it, and refuses what is no time', () => {
    expect(kaplanMeier([seen(1, true), seen(5, false), seen(5, false)]).median).toBeNull()
    expect(() => kaplanMeier([])).toThrow(RangeError)
    expect(() => kaplanMeier([seen(-1, true)])).toThrow(RangeError)
    expect(() => kaplanMeier([seen(1, 2)])).toThrow(RangeError)
  })

  it('compares three groups with two degrees of freedom, and equal ones with χ² 0', () => {
    const group = [1, 2, 2, 5].map((time) => seen(time, time < 5))
    const result = logRank([group, group, group])
    expect(result?.df).toBe(2)
    expect(result?.chiSquare).toBeCloseTo(0, 12)
    expect(logRank([[seen(1, false)], [seen(2, false)]])).toBeNull()
    expect(() => logRank([group])).toThrow(RangeError)
  })

  it('shares out everything between what may happen, and stops where few are left', () => {
    const records = [1, 1, 2, 3, 3, 4, 5, 6, 7, 8].map((time, i) => seen(time, (i % 2) + 1))
    const steps = aalenJohansen(records)
    for (const { free, incidences } of steps) {
      expect(free + incidences.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 12)
    }
    expect(steps.map(({ isEnough }) => isEnough)).toEqual([
      true,
      true,
      true,
      true,
      false,
      false,
      false,
      false,
    ])
  })

  it('between looks is known at the looks only', () => {
    const steps = turnbull([
      { after: 0, by: 7 },
      { after: 0, by: 7 },
      { after: 7, by: 14 },
      { after: 14, by: null },
    ])
    expect(steps.map(({ survival }) => survival)).toEqual([0.5, 0.25, 0])
    expect(() => turnbull([{ after: 7, by: 7 }])).toThrow(RangeError)
  })
})

describe('calibration', () => {
  const forecast = (predicted: number, successes: number, trials: number) => ({
    predicted,
    successes,
    trials,
  })

  it('is perfect for what came as forecast', () => {
    const asSaid = [forecast(0.2, 20, 100), forecast(0.5, 50, 100), forecast(0.9, 90, 100)]
    const line = calibrationLine(asSaid)
    expect(line?.slope.estimate).toBeCloseTo(1, 8)
    expect(line?.inTheLarge.estimate).toBeCloseTo(0, 8)
    expect(line?.isEnough).toBe(true)
    expect(brierScore(asSaid).reliability).toBeCloseTo(0, 12)
  })

  it('draws no line through one forecast, or where everything took', () => {
    expect(calibrationLine([forecast(0.5, 3, 6)])).toBeNull()
    expect(calibrationLine([forecast(0.5, 6, 6), forecast(0.9, 3, 3)])).toBeNull()
    expect(brierScore([forecast(1, 4, 4)])).toMatchObject({ score: 0, skill: null, spiegelhalter: null })
    expect(() => brierScore([])).toThrow(RangeError)
    expect(() => brierScore([forecast(1.1, 1, 2)])).toThrow(RangeError)
  })

  it('bins hold twenty at least, at most nine of them, widened for batches', () => {
    const many = Array.from({ length: 300 }, (_, i) => forecast(i / 300, i % 3 === 0 ? 1 : 0, 1))
    const bins = calibrationBins(many)
    expect(bins).toHaveLength(8)
    expect(Math.min(...bins.map(({ trials }) => trials))).toBeGreaterThanOrEqual(20)
    expect(bins.reduce((sum, { trials }) => sum + trials, 0)).toBe(300)
    const wider = calibrationBins(many, { designEffect: 3 })
    expect(wider[0]?.interval.high).toBeGreaterThan(bins[0]?.interval.high ?? 1)
  })
})

it('a crossing has no limits where the slope may be nothing', () => {
  const line = {
    intercept: 2,
    slope: -0.1,
    covariance: [
      [0.1, 0],
      [0, 0.01],
    ],
  }
  expect(rateCrossing(line)).toBeNull()
  expect(
    rateCrossing({
      ...line,
      covariance: [
        [0, 0],
        [0, 0],
      ],
    }),
  ).toMatchObject({ at: 20, low: expect.closeTo(20, 10), high: expect.closeTo(20, 10) })
})

it('a funnel narrows with the number of trials and stays within 0 and 1', () => {
  expect(funnelLimits(0.9, 5)).toMatchObject({ high: 1 })
  expect(funnelLimits(0.7, 100).low).toBeGreaterThan(funnelLimits(0.7, 10).low)
  expect(() => funnelLimits(0.7, 0)).toThrow(RangeError)
})
