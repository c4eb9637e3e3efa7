import logBeta from '@stdlib/math-base-special-betaln'
import digamma from '@stdlib/math-base-special-digamma'
import logGamma from '@stdlib/math-base-special-gammaln'
import trigamma from '@stdlib/math-base-special-trigamma'
import betaCdf from '@stdlib/stats-base-dists-beta-cdf'
import betaQuantile from '@stdlib/stats-base-dists-beta-quantile'
import normalCdf from '@stdlib/stats-base-dists-normal-cdf'
import { describe, expect, it } from 'vitest'
import { chiSquareTail } from '#lib/statistics/chi-square-tail.ts'
import { clopperPearsonInterval } from '#lib/statistics/clopper-pearson-interval.ts'
import { designEffect } from '#lib/statistics/design-effect.ts'
import { fitBetaBinomial } from '#lib/statistics/fit-beta-binomial.ts'
import { funnelLimits } from '#lib/statistics/funnel-limits.ts'
import { jeffreysInterval } from '#lib/statistics/jeffreys-interval.ts'
import { pooledRates } from '#lib/statistics/pooled-rates.ts'
import { scoreInterval } from '#lib/statistics/score-interval.ts'
import { summariseOutcomes } from '#lib/statistics/summarise-outcomes.ts'
import { wilsonInterval } from '#lib/statistics/wilson-interval.ts'
import batches from './data/batches-and-bounds-r.json' with { type: 'json' }
import betaBinomialR from './data/beta-binomial-r.json' with { type: 'json' }
import intervalsR from './data/beta-intervals-r.json' with { type: 'json' }
import { expectNear } from './expect-near.ts'

const countsOf = ({ k, n }: { readonly k: readonly number[]; readonly n: readonly number[] }) =>
  k.map((successes, i) => ({ successes, trials: n[i] ?? 0 }))

describe('special functions of the library', () => {
  const { special } = batches

  it('give the beta distribution as R 4.2.2 does', () => {
    expect(special.qbeta.length + special.pbeta.length).toBe(18)
    for (const { p, a, b, q } of special.qbeta)
      expectNear(betaQuantile(p, a, b), q, 1e-9, `qbeta ${p} ${a} ${b}`)
    for (const { x, a, b, p } of special.pbeta) expectNear(betaCdf(x, a, b), p, 1e-9, `pbeta ${x} ${a} ${b}`)
  })

  it('give the gamma family, the normal and χ² tails as R 4.2.2 does', () => {
    for (const { x, v } of special.lgamma) expectNear(logGamma(x), v, 1e-12, `lgamma ${x}`)
    for (const { a, b, v } of special.lbeta) expectNear(logBeta(a, b), v, 1e-9, `lbeta ${a} ${b}`)
    for (const { x, v } of special.digamma) expectNear(digamma(x), v, 1e-12, `digamma ${x}`)
    for (const { x, v } of special.trigamma) expectNear(trigamma(x), v, 1e-12, `trigamma ${x}`)
    for (const { x, p } of special.pnorm) expectNear(normalCdf(x, 0, 1) / p, 1, 1e-9, `pnorm ${x}`)
    for (const { x, df, p } of special.pchisq_upper)
      expectNear(chiSquareTail(x, df) / p, 1, 1e-10, `χ² ${x}, ${df}`)
  })
})

describe('exact and Jeffreys’ intervals', () => {
  it(`agree to 9 digits with ${intervalsR.source}`, () => {
    expect(intervalsR.rows).toHaveLength(17)
    for (const { k, n, clopperPearson, jeffreys } of intervalsR.rows) {
      const exact = clopperPearsonInterval(k, n)
      const bayes = jeffreysInterval(k, n)
      expectNear(exact.low, clopperPearson[0] ?? NaN, 1e-9, `exact low of ${k}/${n}`)
      expectNear(exact.high, clopperPearson[1] ?? NaN, 1e-9, `exact high of ${k}/${n}`)
      expectNear(bayes.low, jeffreys[0] ?? NaN, 1e-9, `Jeffreys low of ${k}/${n}`)
      expectNear(bayes.high, jeffreys[1] ?? NaN, 1e-9, `Jeffreys high of ${k}/${n}`)
    }
  })
})

describe('a beta-binomial fit', () => {
  for (const set of [betaBinomialR.crowder, betaBinomialR.demo]) {
    it(`finds the maximum of ${betaBinomialR.source} for ${set.source}`, () => {
      const fit = fitBetaBinomial(countsOf(set))
      expectNear(fit.mean, set.ml.mu, 1e-6, 'mean')
      expectNear(fit.alpha, set.ml.alpha, 1e-6, 'alpha')
      expectNear(fit.beta, set.ml.beta, 1e-6, 'beta')
      expectNear(fit.rho, set.ml.rho, 1e-6, 'rho')
      expectNear(fit.logLikelihood, set.ml.logLik, 1e-6, 'log-likelihood')
      for (const [i, mean] of set.plugin.mean.entries()) {
        const posterior = fit.posterior(i)
        expectNear(posterior.mean, mean, 1e-6, `mean of ${i}`)
        expectNear(posterior.low, set.plugin.low[i] ?? NaN, 1e-6, `low of ${i}`)
        expectNear(posterior.high, set.plugin.high[i] ?? NaN, 1e-6, `high of ${i}`)
      }
    })
  }

  for (const [name, set] of Object.entries(betaBinomialR.byTreatment)) {
    it(`finds the flat maximum of ${name} of Crowder 1978 as R does`, () => {
      const fit = fitBetaBinomial(countsOf(set))
      expectNear(fit.mean, set.mu, 1e-6, 'mean')
      expectNear(fit.rho, set.rho, 1e-6, 'rho')
      expectNear((fit.alpha + fit.beta) / set.M, 1, 1e-5, 'size')
      expectNear(fit.logLikelihood, set.logLik, 1e-6, 'log-likelihood')
    })
  }
})

describe('pooled rates', () => {
  for (const set of [betaBinomialR.crowder, betaBinomialR.demo]) {
    it(`agree with a fine grid in R 4.2.2 for ${set.source}`, () => {
      const pooled = pooledRates(countsOf(set))
      if (pooled.kind !== 'pooled') throw new Error('Not pooled')
      expectNear(pooled.mean, set.hierarchical.poolMean, 1e-4, 'mean of the pool')
      expectNear(pooled.newUnit.low, set.hierarchical.newUnit[0] ?? NaN, 1e-3, 'low of a new unit')
      expectNear(pooled.newUnit.high, set.hierarchical.newUnit[1] ?? NaN, 1e-3, 'high of a new unit')
      for (const [i, { mean, low, high }] of pooled.rates.entries()) {
        expectNear(mean, set.hierarchical.mean[i] ?? NaN, 1e-4, `mean of ${i}`)
        expectNear(low, set.hierarchical.low[i] ?? NaN, 1e-4, `low of ${i}`)
        expectNear(high, set.hierarchical.high[i] ?? NaN, 1e-4, `high of ${i}`)
      }
    })
  }

  it('rank the eight records as R does: two of two behind forty-five of fifty', () => {
    const { demo } = betaBinomialR
    const pooled = pooledRates(countsOf(demo))
    if (pooled.kind !== 'pooled') throw new Error('Not pooled')
    const means = pooled.rates.map(({ mean }) => mean)
    const rankOf = (own: number) => 1 + means.filter((mean) => mean > own).length
    expect(means.map(rankOf)).toEqual(demo.rankHierarchical)
  })
})

describe('batches, bounds and funnels', () => {
  it(`agree to 12 digits with ${batches.source}`, () => {
    expect(batches.designEffect).toHaveLength(3)
    for (const { k, n, m, rho, deff, n_eff, wilson_neff } of batches.designEffect) {
      const effect = designEffect(m, rho)
      expectNear(effect, deff, 1e-12, 'design effect')
      expectNear(n / effect, n_eff, 1e-12, 'effective number')
      const interval = scoreInterval(k / n, n / effect)
      expectNear(interval.low, wilson_neff[0] ?? NaN, 1e-12, 'low')
      expectNear(interval.high, wilson_neff[1] ?? NaN, 1e-12, 'high')
    }
  })

  it('find the correlation of the 48 rooting batches (Yifru 2005) that R’s maximum likelihood gives: 0.2946821', () => {
    const rooted = [
      2, 3, 9, 2, 8, 4, 6, 11, 5, 7, 3, 9, 3, 3, 4, 2, 3, 8, 8, 9, 11, 4, 8, 9, 9, 0, 0, 4, 8, 7, 11, 9, 11,
      5, 2, 6, 0, 0, 3, 1, 4, 4, 0, 0, 4, 0, 5, 0,
    ]
    const { rho } = fitBetaBinomial(rooted.map((successes) => ({ successes, trials: 12 })))
    expectNear(rho, batches.designEffect[0]?.rho ?? NaN, 1e-6, 'rho')
  })

  it('bound a rate by its unknown outcomes as R does', () => {
    expect(batches.bounds).toHaveLength(3)
    for (const row of batches.bounds) {
      const unknown = row.pending + row.lost
      const pieces = row.success + row.fail + unknown
      const counts = { pieces, alive: row.success, dead: row.fail, unknown, pending: 0 }
      const { rate, interval, worst, best } = summariseOutcomes([counts])
      expectNear(rate, row.complete_case.p, 1e-12, 'rate')
      expectNear(interval?.low, row.complete_case.wilson[0] ?? NaN, 1e-12, 'low')
      expectNear(worst, row.identification_region[0] ?? NaN, 1e-12, 'worst')
      expectNear(best, row.identification_region[1] ?? NaN, 1e-12, 'best')
      expectNear(
        wilsonInterval(row.success, pieces).low,
        row.outer_interval[0] ?? NaN,
        1e-12,
        'outermost low',
      )
      expectNear(
        wilsonInterval(row.success + unknown, pieces).high,
        row.outer_interval[1] ?? NaN,
        1e-12,
        'high',
      )
    }
  })

  it('draw the funnel’s score limits of R 4.2.2, cut at 0 and 1', () => {
    expect(batches.funnel).toHaveLength(13)
    const held = (limit: number | undefined) => Math.min(1, Math.max(0, limit ?? NaN))
    for (const { n, score95, score998 } of batches.funnel) {
      for (const [level, limits] of [
        [0.95, score95],
        [0.998, score998],
      ] as const) {
        const funnel = funnelLimits(0.7, n, level)
        expectNear(funnel.low, held(limits[0]), 1e-9, `low at ${n}`)
        expectNear(funnel.high, held(limits[1]), 1e-9, `high at ${n}`)
      }
    }
  })

  it('give the widths at 70 % that the gate was cut by, from R 4.2.2', () => {
    // R rounds halves to the even neighbour.
    const rounded = (x: number) => (x % 1 === 0.5 ? 2 * Math.round(x / 2) : Math.round(x))
    for (const [i, n] of batches.widthAt70.n.entries()) {
      const { low, high } = wilsonInterval(rounded(0.7 * n), n)
      expectNear(high - low, batches.widthAt70.width[i] ?? NaN, 1e-12, `width at ${n}`)
    }
  })
})
