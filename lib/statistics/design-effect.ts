/**
 * By how much pieces in batches tell less than as many apart: 1 + rho (Σm² ÷ Σm − 1) for batches of m pieces. Dividing
 * successes and trials by it gives the effective numbers. 1 without pieces. Throws RangeError for what is no batch size
 * or no correlation between 0 and 1.
 *
 * Source: L. Kish 1965, Survey Sampling, for clusters of unequal size (from memory).
 *
 * @example designEffect([12, 12, 12, 12], 0.2947) // 4.24: 48 cuttings tell as much as 11 apart
 */
export function designEffect(batchSizes: readonly number[], rho: number): number {
  if (!(rho >= 0 && rho <= 1))
    throw new RangeError(`A correlation of batches lies between 0 and 1, not ${rho}`)
  for (const size of batchSizes) {
    if (!Number.isSafeInteger(size) || size < 0) throw new RangeError(`Not the size of a batch: ${size}`)
  }
  const pieces = batchSizes.reduce((sum, size) => sum + size, 0)
  if (pieces === 0) return 1
  const squares = batchSizes.reduce((sum, size) => sum + size * size, 0)
  return 1 + rho * (squares / pieces - 1)
}
