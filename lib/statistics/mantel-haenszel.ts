import { chiSquareTail } from '#lib/statistics/chi-square-tail.ts'
import { informativeStrata, type Stratum } from '#lib/statistics/informative-strata.ts'
import { normalQuantile } from '#lib/statistics/normal-quantile.ts'
import { requireLevel } from '#lib/statistics/require-level.ts'

export interface MantelHaenszel {
  /** The odds of the first row over those of the second, over all strata; 0 or Infinity at the edge. */
  readonly oddsRatio: number
  readonly low: number
  readonly high: number
  /** Cochran–Mantel–Haenszel, one degree of freedom, without continuity correction. */
  readonly chiSquare: number
  readonly p: number
  /** The rate of the first row less that of the second, over all strata, as a share of 1. */
  readonly riskDifference: {
    readonly difference: number
    readonly low: number
    readonly high: number
    readonly standardError: number
  }
  /** How many strata, and trials in them, tell anything: both rows were tried there. */
  readonly strata: number
  readonly trials: number
}

const sumOf = (
  strata: readonly Stratum[],
  term: (a: number, b: number, c: number, d: number, n: number) => number,
) => strata.reduce((sum, [[a, b], [c, d]]) => sum + term(a, b, c, d, a + b + c + d), 0)

type OddsRatio = Pick<MantelHaenszel, 'oddsRatio' | 'low' | 'high'>

function oddsRatioOf(strata: readonly Stratum[], z: number): OddsRatio {
  const r = sumOf(strata, (a, _b, _c, d, n) => (a * d) / n)
  const s = sumOf(strata, (_a, b, c, _d, n) => (b * c) / n)
  // Nobody knows how far apart two sides are of which one always or never took: any finite limit would be made up.
  if (r === 0 || s === 0)
    return { oddsRatio: s === 0 && r > 0 ? Infinity : r === 0 && s > 0 ? 0 : 1, low: 0, high: Infinity }
  const pr = sumOf(strata, (a, _b, _c, d, n) => ((a + d) * a * d) / (n * n))
  const qs = sumOf(strata, (_a, b, c, _d, n) => ((b + c) * b * c) / (n * n))
  const mixed = sumOf(strata, (a, b, c, d, n) => ((a + d) * b * c + (b + c) * a * d) / (n * n))
  const reach = z * Math.sqrt(pr / (2 * r * r) + mixed / (2 * r * s) + qs / (2 * s * s))
  return { oddsRatio: r / s, low: (r / s) * Math.exp(-reach), high: (r / s) * Math.exp(reach) }
}

function riskDifferenceOf(strata: readonly Stratum[], z: number): MantelHaenszel['riskDifference'] {
  const weight = sumOf(strata, (a, b, c, d, n) => ((a + b) * (c + d)) / n)
  const difference = sumOf(strata, (a, b, c, d, n) => (a * (c + d) - c * (a + b)) / n) / weight
  const slope = sumOf(strata, (a, b, c, d, n) => {
    const [first, second] = [a + b, c + d]
    return (first * first * c - second * second * a + (first * second * (second - first)) / 2) / (n * n)
  })
  const level = sumOf(strata, (a, b, c, d, n) => (a * d + c * b) / (2 * n))
  const standardError = Math.sqrt(Math.max(0, difference * slope + level)) / weight
  const reach = z * standardError
  return { difference, low: difference - reach, high: difference + reach, standardError }
}

function chiSquareOf(strata: readonly Stratum[]): number {
  const surplus = sumOf(strata, (a, b, c, _d, n) => a - ((a + b) * (a + c)) / n)
  const variance = sumOf(
    strata,
    (a, b, c, d, n) => ((a + b) * (c + d) * (a + c) * (b + d)) / (n * n * (n - 1)),
  )
  return variance === 0 ? 0 : (surplus * surplus) / variance
}

/**
 * Two methods compared like with like: within each stratum (a crop, a variety), then over all. A stratum is
 * [[took, failed], [took, failed]] of the first and the second. Null when no stratum tried both. Throws RangeError
 * for impossible counts and for a level outside 0 to 1.
 *
 * Sources: N. Mantel and W. Haenszel 1959, J Natl Cancer Inst 22:719–748; limits of the odds ratio by J. Robins,
 * N. Breslow and S. Greenland 1986, Biometrics 42:311–323; standard error of the risk difference by T. Sato 1989,
 * Biometrics 45:1323–1324 (all from memory, checked against R).
 */
export function mantelHaenszel(strata: readonly Stratum[], level = 0.95): MantelHaenszel | null {
  requireLevel(level)
  const telling = informativeStrata(strata)
  if (telling.length === 0) return null
  const z = normalQuantile((1 + level) / 2)
  const chiSquare = chiSquareOf(telling)
  return {
    ...oddsRatioOf(telling, z),
    chiSquare,
    p: chiSquareTail(chiSquare, 1),
    riskDifference: riskDifferenceOf(telling, z),
    strata: telling.length,
    trials: sumOf(telling, (_a, _b, _c, _d, n) => n),
  }
}
