import { solveCholesky } from '#lib/statistics/dense/solve-cholesky.ts'
import type { Workspace } from '#lib/statistics/mixed-logit/workspace.ts'

/** Solves H x = b in place with the last factor. */
export function solveHessian({ data, diagonal, cross, schur }: Workspace, x: Float64Array): void {
  const { outerLevels, innerLevels, columns, columnStart } = data
  const inner = x.subarray(outerLevels)
  for (let outer = 0; outer < outerLevels; outer++) {
    const scaled = (x[outer] as number) / (diagonal[outer] as number)
    const to = columnStart[outer + 1] as number
    for (let i = columnStart[outer] as number; i < to; i++) {
      const column = columns[i] as number
      inner[column] = (inner[column] as number) - (cross[i] as number) * scaled
    }
  }
  solveCholesky(schur, innerLevels, inner)
  for (let outer = 0; outer < outerLevels; outer++) {
    let sum = x[outer] as number
    const to = columnStart[outer + 1] as number
    for (let i = columnStart[outer] as number; i < to; i++) {
      sum -= (cross[i] as number) * (inner[columns[i] as number] as number)
    }
    x[outer] = sum / (diagonal[outer] as number)
  }
}
