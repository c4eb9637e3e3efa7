import { describe, expect, it } from 'vitest'
import { brierScore } from '#lib/statistics/brier-score.ts'
import { calibrationBins } from '#lib/statistics/calibration-bins.ts'
import { calibrationLine } from '#lib/statistics/calibration-line.ts'
import { fitLogit, type LogitFit } from '#lib/statistics/fit-logit.ts'
import { rateCrossing } from '#lib/statistics/rate-crossing.ts'
import calibrationR from './data/calibration-r.json' with { type: 'json' }
import logitR from './data/logit-r.json' with { type: 'json' }
import { expectNear } from './expect-near.ts'

interface Published {
  readonly coefficients: readonly number[]
  readonly standardErrors: readonly number[]
  readonly covariance: readonly (readonly number[])[]
  readonly deviance: number
  readonly logLikelihood: number
  readonly pearson: number
}

function expectFit(fit: LogitFit, published: Published) {
  expect(fit).toMatchObject({ converged: true, unbounded: [] })
  for (const [i, value] of published.coefficients.entries()) {
    expectNear(fit.coefficients[i]?.estimate, value, 1e-7, `coefficient ${i}`)
    expectNear(fit.coefficients[i]?.standardError, published.standardErrors[i] ?? NaN, 1e-7, `error ${i}`)
    for (const [j, shared] of (published.covariance[i] ?? []).entries()) {
      expectNear(fit.covariance[i]?.[j], shared, 1e-7, `covariance ${i}, ${j}`)
    }
  }
  expectNear(fit.deviance, published.deviance, 1e-7, 'deviance')
  expectNear(fit.logLikelihood, published.logLikelihood, 1e-7, 'log-likelihood')
  expectNear(fit.pearson, published.pearson, 1e-7, 'Pearson')
}

describe(`logistic regression, by ${logitR.source}`, () => {
  const { plum, rooting, trajan, separation } = logitR

  for (const name of ['main', 'interaction'] as const) {
    it(`agrees on the plum cuttings, ${name} effects: ${plum.source}`, () => {
      const fit = fitLogit({ ...plum, fixed: plum[name].fixed })
      expectFit(fit, plum[name])
      for (const [i, p] of plum[name].fitted.entries()) expectNear(fit.fitted[i], p, 1e-7, `fitted ${i}`)
    })
  }

  it('gives the null deviance of the plum cuttings', () => {
    expectNear(
      fitLogit({ ...plum, fixed: plum.trials.map(() => [1]) }).deviance,
      plum.nullDeviance,
      1e-7,
      'null',
    )
  })

  it(`agrees on rooted cuttings and their dispersion: ${rooting.source}`, () => {
    const { rows } = rooting
    const fit = fitLogit({
      successes: rows.map(({ k }) => k),
      trials: rows.map(({ n }) => n),
      fixed: rows.map(({ iba, position, age }) => [
        1,
        Number(iba === 0.5),
        Number(iba === 2),
        Number(position === 'T'),
        Number(age === 20),
      ]),
    })
    expectFit(fit, rooting.main)
    expectNear(fit.pearson / (rows.length - 5), rooting.dispersion, 1e-7, 'dispersion')
  })

  it(`agrees near separation: ${trajan.source}`, () => {
    const { rows } = trajan
    const fit = fitLogit({
      successes: rows.map(({ k }) => k),
      trials: rows.map(({ n }) => n),
      fixed: rows.map(({ photo, bap }) => [1, Number(photo === 16), Math.log2(bap)]),
    })
    expectFit(fit, trajan.main)
  })

  it(`holds a separated effect by a prior: ${separation.source}`, () => {
    const fit = fitLogit({
      successes: [0, 5],
      trials: [10, 10],
      fixed: [
        [1, 0],
        [1, 1],
      ],
      priorStandardDeviations: [null, 2.5],
    })
    // The published mode is that of a general optimiser: four digits.
    expectNear(fit.coefficients[0]?.estimate, separation.intercept, 1e-4, 'intercept')
    expectNear(fit.coefficients[1]?.estimate, separation.slope, 1e-4, 'slope')
    expectNear(fit.coefficients[1]?.standardError, separation.standardErrors[1] ?? NaN, 1e-3, 'error')
    expect(fit.unbounded).toEqual([])
  })
})

describe(`calibration, by ${calibrationR.source}`, () => {
  const forecasts = calibrationR.bins.map(({ p, k, n }) => ({ predicted: p, successes: k, trials: n }))

  it('gives the Brier score, its parts and its test', () => {
    const brier = brierScore(forecasts)
    expectNear(brier.score, calibrationR.brier, 1e-7, 'score')
    expectNear(brier.reliability, calibrationR.brier_reliability, 1e-7, 'reliability')
    expectNear(brier.resolution, calibrationR.brier_resolution, 1e-7, 'resolution')
    expectNear(brier.uncertainty, calibrationR.brier_uncertainty, 1e-7, 'uncertainty')
    expectNear(brier.skill, calibrationR.brier_skill, 1e-7, 'skill')
    expectNear(brier.spiegelhalter?.z, calibrationR.spiegelhalter_z, 1e-7, 'z')
    expectNear(brier.spiegelhalter?.p, calibrationR.spiegelhalter_p, 1e-7, 'p')
  })

  it('gives the calibration line', () => {
    const line = calibrationLine(forecasts)
    expectNear(line?.slope.estimate, calibrationR.slope, 1e-7, 'slope')
    expectNear(line?.slope.standardError, calibrationR.slope_se, 1e-7, 'its error')
    expectNear(line?.intercept.estimate, calibrationR.intercept_with_slope, 1e-7, 'intercept')
    expectNear(line?.inTheLarge.estimate, calibrationR.calibration_in_large_intercept, 1e-7, 'in the large')
    expectNear(line?.inTheLarge.standardError, calibrationR.citl_se, 1e-7, 'its error')
    expect(line?.isEnough).toBe(false)
  })

  it('gives the bins’ Wilson intervals', () => {
    const bins = calibrationBins(forecasts, { most: 100, fewest: 1 }).toReversed()
    expect(bins).toHaveLength(9)
    for (const [i, { obs, wilson }] of calibrationR.bins.entries()) {
      expectNear(bins[i]?.rate, obs, 1e-12, `rate ${i}`)
      expectNear(bins[i]?.interval.low, wilson[0] ?? NaN, 1e-9, `low ${i}`)
      expectNear(bins[i]?.interval.high, wilson[1] ?? NaN, 1e-9, `high ${i}`)
    }
  })

  it('finds the weeks after which one in two takes, with Fieller’s limits', () => {
    const { storageLogit, bins } = calibrationR
    const fit = fitLogit({
      successes: bins.map(({ k }) => k),
      trials: bins.map(({ n }) => n),
      fixed: bins.map(({ weeks }) => [1, weeks]),
    })
    const [intercept, slope] = fit.coefficients.map(({ estimate }) => estimate)
    expectNear(intercept, storageLogit.coefficients[0] ?? NaN, 1e-7, 'intercept')
    expectNear(slope, storageLogit.coefficients[1] ?? NaN, 1e-7, 'slope')
    expectNear(fit.deviance, storageLogit.deviance, 1e-7, 'deviance')
    const crossing = rateCrossing({
      intercept: intercept ?? 0,
      slope: slope ?? 0,
      covariance: fit.covariance,
    })
    expectNear(crossing?.at, storageLogit.weeksToHalf, 1e-7, 'weeks')
    expectNear(crossing?.low, storageLogit.fieller[0] ?? NaN, 1e-7, 'low')
    expectNear(crossing?.high, storageLogit.fieller[1] ?? NaN, 1e-7, 'high')
  })
})
