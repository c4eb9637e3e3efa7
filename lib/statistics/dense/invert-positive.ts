import { cholesky } from '#lib/statistics/dense/cholesky.ts'
import { invertCholesky } from '#lib/statistics/dense/invert-cholesky.ts'

/** The inverse of a symmetric positive definite matrix, row by row; null for any other. */
export function invertPositive(matrix: Float64Array, size: number): Float64Array | null {
  const factor = matrix.slice()
  if (!cholesky(factor, size)) return null
  const inverse = new Float64Array(size * size)
  invertCholesky(factor, size, inverse, new Float64Array(size * size))
  return inverse.every(Number.isFinite) ? inverse : null
}
