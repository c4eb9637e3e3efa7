import logGamma from '@stdlib/math-base-special-gammaln'

/** Up to this many trials the logarithms of factorials are looked up. */
const longestTable = 10_000

/** The logarithm of the binomial coefficient of each row, added up: Σ log (trials choose successes). */
export function logBinomials(successes: ArrayLike<number>, trials: ArrayLike<number>): number {
  const table = new Float64Array(longestTable + 1).fill(-1)
  const logFactorial = (n: number) => {
    if (n > longestTable) return logGamma(n + 1)
    if ((table[n] as number) < 0) table[n] = logGamma(n + 1)
    return table[n] as number
  }
  let sum = 0
  for (let row = 0; row < trials.length; row++) {
    const tried = trials[row] as number
    const took = successes[row] as number
    sum += logFactorial(tried) - logFactorial(took) - logFactorial(tried - took)
  }
  return sum
}
