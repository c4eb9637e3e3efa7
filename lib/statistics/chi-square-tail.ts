import chiSquareCdf from '@stdlib/stats-base-dists-chisquare-cdf'
import normalCdf from '@stdlib/stats-base-dists-normal-cdf'

/** The chance of a χ² at least as large, with `df` degrees of freedom. For one degree it keeps its digits in the tail. */
export function chiSquareTail(chiSquare: number, df: number): number {
  if (df === 1) return 2 * normalCdf(-Math.sqrt(chiSquare), 0, 1)
  return Math.max(0, 1 - chiSquareCdf(chiSquare, df))
}
