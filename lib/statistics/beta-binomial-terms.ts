import digamma from '@stdlib/math-base-special-digamma'
import logGamma from '@stdlib/math-base-special-gammaln'
import trigamma from '@stdlib/math-base-special-trigamma'

/** Counts that need not be whole: divided by a design effect they are not. */
export interface WeightedCount {
  readonly successes: number
  readonly trials: number
}

/** Value, gradient by (α, β), and second derivatives αα, ββ, αβ of a beta-binomial log-likelihood. */
export interface BetaBinomialTerms {
  readonly value: number
  readonly byAlpha: number
  readonly byBeta: number
  readonly byAlphaTwice: number
  readonly byBetaTwice: number
  readonly byBoth: number
}

/** log B(k + α, n − k + β) − log B(α, β), added up: the log-likelihood without binomial coefficients. */
export function betaBinomialTerms(
  counts: readonly WeightedCount[],
  alpha: number,
  beta: number,
): BetaBinomialTerms {
  const sums = { value: 0, byAlpha: 0, byBeta: 0, byAlphaTwice: 0, byBetaTwice: 0, byBoth: 0 }
  const start = logGamma(alpha + beta) - logGamma(alpha) - logGamma(beta)
  for (const { successes, trials } of counts) {
    const [a, b, all] = [alpha + successes, beta + trials - successes, alpha + beta + trials]
    const first = digamma(alpha + beta) - digamma(all)
    const second = trigamma(alpha + beta) - trigamma(all)
    sums.value += start + logGamma(a) + logGamma(b) - logGamma(all)
    sums.byAlpha += digamma(a) - digamma(alpha) + first
    sums.byBeta += digamma(b) - digamma(beta) + first
    sums.byAlphaTwice += trigamma(a) - trigamma(alpha) + second
    sums.byBetaTwice += trigamma(b) - trigamma(beta) + second
    sums.byBoth += second
  }
  return sums
}
