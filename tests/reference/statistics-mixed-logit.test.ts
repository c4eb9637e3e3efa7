import { describe, expect, it } from 'vitest'
import { fitMixedLogit, type MixedLogitFit } from '#lib/statistics/fit-mixed-logit.ts'
import mixedR from './data/mixed-logit-r.json' with { type: 'json' }
import { expectNear } from './expect-near.ts'

interface Polished {
  readonly beta: readonly number[]
  readonly standardErrors: readonly number[]
  readonly sd: readonly number[]
  readonly logLikelihood: number
  readonly modes: readonly (readonly number[])[]
}

function expectFit(fit: MixedLogitFit, polished: Polished) {
  expect(fit).toMatchObject({ converged: true, unbounded: [] })
  for (const [i, beta] of polished.beta.entries()) {
    expectNear(fit.coefficients[i]?.estimate, beta, 1e-7, `coefficient ${i}`)
    expectNear(fit.coefficients[i]?.standardError, polished.standardErrors[i] ?? NaN, 1e-5, `error ${i}`)
  }
  for (const [g, sd] of polished.sd.entries()) {
    expectNear(fit.standardDeviations[g], sd, 1e-7, `standard deviation ${g}`)
    for (const [level, mode] of (polished.modes[g] ?? []).entries()) {
      expectNear(fit.modes[g]?.[level], mode, 1e-6, `mode ${level} of ${g}`)
    }
  }
  expectNear(fit.logLikelihood, polished.logLikelihood, 1e-8, 'log-likelihood')
}

describe(`a mixed logit, by ${mixedR.source}`, () => {
  const { cbpp, ledger, canker } = mixedR
  const [variety = [], grower = [], year = []] = ledger.groupings

  it(`agrees with one grouping: ${cbpp.source}`, () => {
    expectFit(fitMixedLogit(cbpp), cbpp.polished)
  })

  it(`is what lme4’s documentation prints for the same data, to its four digits: within 6e-4 of the maximum`, () => {
    const fit = fitMixedLogit(cbpp)
    for (const [i, printed] of [-1.3983, -0.9919, -1.1282, -1.5797].entries()) {
      expectNear(fit.coefficients[i]?.estimate, printed, 7e-4, `coefficient ${i}`)
    }
    expectNear(fit.standardDeviations[0], 0.6421, 7e-4, 'standard deviation')
  })

  it(`agrees with two crossed groupings: ${ledger.source}`, () => {
    expectFit(fitMixedLogit({ ...ledger, groupings: [variety, grower] }), ledger.twoWay)
  })

  it(`agrees with three: ${ledger.source}`, () => {
    expectFit(fitMixedLogit({ ...ledger, groupings: [variety, grower, year] }), ledger.threeWay)
  })

  it(`finds a variance of exactly 0: ${canker.source}`, () => {
    const fit = fitMixedLogit(canker)
    expect(fit).toMatchObject({ standardDeviations: [0], modes: [[0, 0, 0, 0]], converged: true })
    for (const [i, beta] of canker.beta.entries()) {
      expectNear(fit.coefficients[i]?.estimate, beta, 1e-6, `coefficient ${i}`)
      expectNear(fit.coefficients[i]?.standardError, canker.standardErrors[i] ?? NaN, 1e-5, `error ${i}`)
    }
    expectNear(fit.logLikelihood, canker.logLikelihood, 1e-8, 'log-likelihood')
  })
})
