import { normalQuantile } from '#lib/statistics/normal-quantile.ts'
import { requireLevel } from '#lib/statistics/require-level.ts'

/**
 * Limits of a share on the log(−log) scale, which keeps them between 0 and 1; null at 0 and 1, where there are none.
 *
 * Source: J. D. Kalbfleisch and R. L. Prentice 1980, The Statistical Analysis of Failure Time Data (from memory).
 */
export function logLogLimits(
  share: number,
  standardError: number | null,
  level: number,
): { readonly low: number | null; readonly high: number | null } {
  requireLevel(level)
  if (share <= 0 || share >= 1 || standardError === null) return { low: null, high: null }
  const reach = (normalQuantile((1 + level) / 2) * standardError) / (share * Math.abs(Math.log(share)))
  return { low: share ** Math.exp(reach), high: share ** Math.exp(-reach) }
}
