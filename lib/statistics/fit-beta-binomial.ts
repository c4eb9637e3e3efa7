import betaQuantile from '@stdlib/stats-base-dists-beta-quantile'
import {
  type BetaBinomialTerms,
  betaBinomialTerms,
  type WeightedCount,
} from '#lib/statistics/beta-binomial-terms.ts'
import { logBinomials } from '#lib/statistics/log-binomials.ts'
import { requireCounts } from '#lib/statistics/require-counts.ts'

/** The rate of one unit, drawn towards the others: mean, and limits that take the fit for certain. */
export interface PluginPosterior {
  readonly mean: number
  readonly low: number
  readonly high: number
}

export interface BetaBinomialFit {
  /** α ÷ (α + β). */
  readonly mean: number
  /** 1 ÷ (α + β + 1): 0 when the units differ no more than chance makes them. */
  readonly rho: number
  /** Infinity at rho 0. */
  readonly alpha: number
  readonly beta: number
  /** With binomial coefficients. */
  readonly logLikelihood: number
  /**
   * The rate of the i-th unit given the fit. Its limits are too narrow, as they take the fit for certain: with six units
   * they covered half of what they promised in simulation. What is shown comes from `pooledRates`.
   */
  readonly posterior: (i: number, level?: number) => PluginPosterior
}

interface Place {
  readonly logitMean: number
  readonly logSize: number
}

/** α + β beyond this is as good as the same rate for all. */
const asGoodAsEqual = 14
const enough = 1e-20
const mostSteps = 200

const shapeOf = ({ logitMean, logSize }: Place) => {
  const size = Math.exp(logSize)
  const mean = 1 / (1 + Math.exp(-logitMean))
  return { alpha: mean * size, beta: size / (1 + Math.exp(logitMean)), mean }
}

/** Gradient and Hessian by (logit mean, log size), from those by (α, β). */
function chain(terms: BetaBinomialTerms, { alpha, beta, mean }: ReturnType<typeof shapeOf>) {
  // dα and dβ by the logit of the mean are ± size × mean × (1 − mean); by log size they are α and β.
  const slope = (alpha + beta) * mean * (1 - mean)
  const { byAlpha, byBeta, byAlphaTwice, byBetaTwice, byBoth } = terms
  const bend = slope * (1 - 2 * mean)
  return {
    gradient: [slope * (byAlpha - byBeta), alpha * byAlpha + beta * byBeta] as const,
    meanTwice: slope * slope * (byAlphaTwice + byBetaTwice - 2 * byBoth) + bend * (byAlpha - byBeta),
    sizeTwice:
      alpha * alpha * byAlphaTwice +
      beta * beta * byBetaTwice +
      2 * alpha * beta * byBoth +
      alpha * byAlpha +
      beta * byBeta,
    both:
      slope * (alpha * (byAlphaTwice - byBoth) + beta * (byBoth - byBetaTwice)) + slope * (byAlpha - byBeta),
  }
}

/** Newton's step, or along the gradient where the surface is not a summit; at most 1 in each direction. */
function stepFrom({ gradient, meanTwice, sizeTwice, both }: ReturnType<typeof chain>) {
  const determinant = meanTwice * sizeTwice - both * both
  const isSummit = meanTwice < 0 && determinant > 0
  const [g, h] = gradient
  const raw = isSummit
    ? [(both * h - sizeTwice * g) / determinant, (both * g - meanTwice * h) / determinant]
    : [g, h]
  const longest = Math.max(1, ...raw.map(Math.abs))
  const [byMean = 0, bySize = 0] = raw.map((by) => by / longest)
  return { byMean, bySize, gain: byMean * g + bySize * h, isSummit }
}

function climb(counts: readonly WeightedCount[], start: Place): Place {
  let place = start
  for (let turn = 0; turn < mostSteps; turn++) {
    const shape = shapeOf(place)
    const terms = betaBinomialTerms(counts, shape.alpha, shape.beta)
    const { byMean, bySize, gain, isSummit } = stepFrom(chain(terms, shape))
    if ((isSummit && gain < enough) || place.logSize > asGoodAsEqual) return place
    for (let share = 1; ; share /= 2) {
      const next = { logitMean: place.logitMean + share * byMean, logSize: place.logSize + share * bySize }
      const shapeThere = shapeOf(next)
      const reached = betaBinomialTerms(counts, shapeThere.alpha, shapeThere.beta).value
      if (reached >= terms.value - 1e-11 * Math.abs(terms.value)) {
        place = next
        break
      }
      if (share < 1e-10) return place
    }
  }
  return place
}

/** All units of one rate: what is left where they differ no more than chance makes them. */
function equalFit(counts: readonly WeightedCount[], mean: number, coefficients: number): BetaBinomialFit {
  const term = (count: number, share: number) => (count === 0 ? 0 : count * Math.log(share))
  const logLikelihood = counts.reduce(
    (sum, { successes, trials }) => sum + term(successes, mean) + term(trials - successes, 1 - mean),
    coefficients,
  )
  const posterior = () => ({ mean, low: mean, high: mean })
  return { mean, rho: 0, alpha: Infinity, beta: Infinity, logLikelihood, posterior }
}

/**
 * The beta distribution that best explains how a rate differs between units, by maximum likelihood. When the units
 * differ no more than chance makes them, rho is 0. Throws RangeError for impossible counts, and when there are no
 * trials.
 *
 * Source: the beta-binomial of J. G. Skellam 1948, J R Stat Soc B 10:257–261 (from memory), by Newton's method.
 *
 * @example fitBetaBinomial([{ successes: 10, trials: 39 }, { successes: 23, trials: 62 }])
 */
export function fitBetaBinomial(counts: readonly WeightedCount[]): BetaBinomialFit {
  for (const { successes, trials } of counts) requireCounts(successes, trials)
  const trials = counts.reduce((sum, count) => sum + count.trials, 0)
  if (trials === 0) throw new RangeError('A fit needs at least one trial')
  const coefficients = logBinomials(
    counts.map((count) => count.successes),
    counts.map((count) => count.trials),
  )
  const pooled = counts.reduce((sum, count) => sum + count.successes, 0) / trials
  if (pooled === 0 || pooled === 1) return equalFit(counts, pooled, coefficients)
  const place = climb(counts, { logitMean: Math.log(pooled / (1 - pooled)), logSize: Math.log(5) })
  if (place.logSize > asGoodAsEqual) return equalFit(counts, pooled, coefficients)
  const { alpha, beta, mean } = shapeOf(place)
  const posterior = (i: number, level = 0.95): PluginPosterior => {
    const count = counts[i]
    if (!count) throw new RangeError(`There is no unit ${i}`)
    const [a, b] = [alpha + count.successes, beta + count.trials - count.successes]
    const tail = (1 - level) / 2
    return { mean: a / (a + b), low: betaQuantile(tail, a, b), high: betaQuantile(1 - tail, a, b) }
  }
  return {
    mean,
    rho: 1 / (alpha + beta + 1),
    alpha,
    beta,
    logLikelihood: betaBinomialTerms(counts, alpha, beta).value + coefficients,
    posterior,
  }
}
