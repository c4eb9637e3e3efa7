import type { Workspace } from '#lib/statistics/mixed-logit/workspace.ts'

/** Σ w (H⁻¹ z) over the tuples, for the outer grouping; half of zᵀH⁻¹z begins in `halves`. */
function takeOuter(space: Workspace, halves: Float64Array): number {
  const { data, parameters, weight, inverseDiagonal, inverseCross } = space
  const { tuples, tupleOuter, tupleSlot, width, levels } = data
  const inner = levels.length - 1
  const outerSd = parameters[width] as number
  let total = 0
  for (let tuple = 0; tuple < tuples; tuple++) {
    let row = outerSd * (inverseDiagonal[tupleOuter[tuple] as number] as number)
    for (let g = 0; g < inner; g++) {
      const slot = tupleSlot[tuple * inner + g] as number
      row += (parameters[width + 1 + g] as number) * (inverseCross[slot] as number)
    }
    total += (weight[tuple] as number) * row
    halves[tuple] = (outerSd * row) / 2
  }
  return total
}

/** The same for an inner grouping. */
function takeInner(space: Workspace, g: number, halves: Float64Array): number {
  const { data, parameters, weight, inverse, inverseCross } = space
  const { tuples, tupleColumn, tupleSlot, width, innerLevels, levels } = data
  const inner = levels.length - 1
  const outerSd = parameters[width] as number
  const halfSd = (parameters[width + 1 + g] as number) / 2
  let total = 0
  for (let tuple = 0; tuple < tuples; tuple++) {
    const base = tuple * inner
    const at = (tupleColumn[base + g] as number) * innerLevels
    let row = outerSd * (inverseCross[tupleSlot[base + g] as number] as number)
    for (let h = 0; h < inner; h++) {
      const column = tupleColumn[base + h] as number
      row += (parameters[width + 1 + h] as number) * (inverse[at + column] as number)
    }
    total += (weight[tuple] as number) * row
    halves[tuple] = (halves[tuple] as number) + halfSd * row
  }
  return total
}

/**
 * Half the leverage zᵀH⁻¹z of each tuple into `halves`, and what the determinant itself takes from the gradient of each
 * standard deviation.
 */
export function takeLeverages(space: Workspace, halves: Float64Array): void {
  const { gradient, data } = space
  const { width, levels } = data
  gradient[width] = (gradient[width] as number) - takeOuter(space, halves)
  for (let g = 0; g + 1 < levels.length; g++) {
    const at = width + 1 + g
    gradient[at] = (gradient[at] as number) - takeInner(space, g, halves)
  }
}
