import { cholesky } from '#lib/statistics/dense/cholesky.ts'
import { solveCholesky } from '#lib/statistics/dense/solve-cholesky.ts'

/** The step with information × step = gradient; null when the information is not positive definite. */
export function newtonDirection(information: Float64Array, gradient: Float64Array): Float64Array | null {
  const factor = information.slice()
  if (!cholesky(factor, gradient.length)) return null
  const direction = gradient.slice()
  solveCholesky(factor, gradient.length, direction)
  return direction
}
