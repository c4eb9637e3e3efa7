import { normalQuantile } from '#lib/statistics/normal-quantile.ts'
import { requireLevel } from '#lib/statistics/require-level.ts'

/** A straight line of log-odds, as fitted: intercept and slope with their covariance matrix. */
export interface FittedLine {
  readonly intercept: number
  readonly slope: number
  readonly covariance: readonly (readonly number[])[]
}

/**
 * Where a line of log-odds crosses a half, such as the weeks in store after which one in two takes, with limits. Null
 * when the slope is not clearly different from 0: the limits would then reach to infinity. Whether the place lies within
 * what was observed is for the caller to see to. Throws RangeError for a level outside 0 to 1.
 *
 * Source: E. C. Fieller 1954, J R Stat Soc B 16:175–185 (from memory, checked against R).
 */
export function rateCrossing(
  { intercept, slope, covariance }: FittedLine,
  level = 0.95,
): { readonly at: number; readonly low: number; readonly high: number } | null {
  requireLevel(level)
  const z = normalQuantile((1 + level) / 2)
  const [[ofIntercept = 0, shared = 0] = [], [, ofSlope = 0] = []] = covariance
  const quadratic = slope * slope - z * z * ofSlope
  if (!(quadratic > 0)) return null
  const linear = intercept * slope - z * z * shared
  const constant = intercept * intercept - z * z * ofIntercept
  const reach = Math.sqrt(linear * linear - quadratic * constant)
  return { at: -intercept / slope, low: (-linear - reach) / quadratic, high: (-linear + reach) / quadratic }
}
