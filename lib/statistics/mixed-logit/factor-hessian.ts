import { cholesky } from '#lib/statistics/dense/cholesky.ts'
import type { Workspace } from '#lib/statistics/mixed-logit/workspace.ts'

/** H by its three blocks, from the weights. */
function fillBlocks({ data, parameters, weight, diagonal, cross, schur }: Workspace): void {
  const { tuples, tupleOuter, tupleColumn, tupleSlot, width, innerLevels, levels } = data
  const inner = levels.length - 1
  const outerSd = parameters[width] as number
  diagonal.fill(1)
  cross.fill(0)
  schur.fill(0)
  for (let column = 0; column < innerLevels; column++) schur[column * innerLevels + column] = 1
  for (let tuple = 0; tuple < tuples; tuple++) {
    const outer = tupleOuter[tuple] as number
    diagonal[outer] = (diagonal[outer] as number) + outerSd * outerSd * (weight[tuple] as number)
  }
  for (let g = 0; g < inner; g++) {
    const sd = parameters[width + 1 + g] as number
    for (let tuple = 0; tuple < tuples; tuple++) {
      const scaled = sd * (weight[tuple] as number)
      const slot = tupleSlot[tuple * inner + g] as number
      cross[slot] = (cross[slot] as number) + outerSd * scaled
      const row = (tupleColumn[tuple * inner + g] as number) * innerLevels
      for (let h = 0; h <= g; h++) {
        const at = row + (tupleColumn[tuple * inner + h] as number)
        schur[at] = (schur[at] as number) + scaled * (parameters[width + 1 + h] as number)
      }
    }
  }
}

/** C − Bᵀ D⁻¹ B, in the lower triangle. */
function eliminateOuter({ data, diagonal, cross, schur }: Workspace): void {
  const { outerLevels, innerLevels, columns, columnStart } = data
  for (let outer = 0; outer < outerLevels; outer++) {
    const from = columnStart[outer] as number
    const to = columnStart[outer + 1] as number
    const pivot = diagonal[outer] as number
    let i = from
    // Two rows at a time, which share what they load; of the first, one entry too many lands above the diagonal.
    for (; i + 2 <= to; i += 2) {
      const first = (cross[i] as number) / pivot
      const second = (cross[i + 1] as number) / pivot
      const row = (columns[i] as number) * innerLevels
      const next = (columns[i + 1] as number) * innerLevels
      for (let j = from; j <= i + 1; j++) {
        const column = columns[j] as number
        const value = cross[j] as number
        schur[row + column] = (schur[row + column] as number) - first * value
        schur[next + column] = (schur[next + column] as number) - second * value
      }
    }
    for (; i < to; i++) {
      const scaled = (cross[i] as number) / pivot
      const row = (columns[i] as number) * innerLevels
      for (let j = from; j <= i; j++) {
        const at = row + (columns[j] as number)
        schur[at] = (schur[at] as number) - scaled * (cross[j] as number)
      }
    }
  }
}

/**
 * Builds and factors H = I + Σ w z zᵀ at the present weights: the grouping with the most levels is eliminated first,
 * as its block is diagonal, and the dense Schur complement on the others is factored. Returns log |H|.
 */
export function factorHessian(space: Workspace): number {
  const { data, diagonal, schur } = space
  const { innerLevels } = data
  fillBlocks(space)
  eliminateOuter(space)
  // H is the identity plus something positive: only figures that are none can make this fail.
  if (!cholesky(schur, innerLevels)) throw new RangeError('The random effects ran out of all bounds')
  space.isFactored = true
  let logDeterminant = 0
  for (const pivot of diagonal) logDeterminant += Math.log(pivot)
  for (let i = 0; i < innerLevels; i++) logDeterminant += 2 * Math.log(schur[i * innerLevels + i] as number)
  return logDeterminant
}
