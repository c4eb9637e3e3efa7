import { invertHessian } from '#lib/statistics/mixed-logit/invert-hessian.ts'
import { solveHessian } from '#lib/statistics/mixed-logit/solve-hessian.ts'
import { takeLeverages } from '#lib/statistics/mixed-logit/take-leverages.ts'
import type { Workspace } from '#lib/statistics/mixed-logit/workspace.ts'

/** H⁻¹ Σ z w′ leverage into `solved`, w′ the slope of the weight by the log-odds. */
function solveForModeShift(space: Workspace, halves: Float64Array): void {
  const { data, chance, solved, parameters } = space
  const { tuples, cellStart, trials, tupleOuter, tupleColumn, width, outerLevels, levels } = data
  const inner = levels.length - 1
  const outerSd = parameters[width] as number
  solved.fill(0)
  let cell = 0
  for (let tuple = 0; tuple < tuples; tuple++) {
    const end = cellStart[tuple + 1] as number
    let slope = 0
    for (; cell < end; cell++) {
      const p = chance[cell] as number
      slope += (trials[cell] as number) * p * (1 - p) * (1 - 2 * p)
    }
    const amount = 2 * slope * (halves[tuple] as number)
    const outer = tupleOuter[tuple] as number
    solved[outer] = (solved[outer] as number) + amount * outerSd
    for (let g = 0; g < inner; g++) {
      const at = outerLevels + (tupleColumn[tuple * inner + g] as number)
      solved[at] = (solved[at] as number) + amount * (parameters[width + 1 + g] as number)
    }
  }
  solveHessian(space, solved)
}

/** Half of zᵀ `solved` for each tuple into `along`. */
function lookAlong({ data, parameters, solved }: Workspace, along: Float64Array): void {
  const { tuples, tupleOuter, tupleColumn, width, outerLevels, levels } = data
  const inner = levels.length - 1
  const outerSd = parameters[width] as number
  for (let tuple = 0; tuple < tuples; tuple++) {
    let sum = outerSd * (solved[tupleOuter[tuple] as number] as number)
    for (let g = 0; g < inner; g++) {
      const at = outerLevels + (tupleColumn[tuple * inner + g] as number)
      sum += (parameters[width + 1 + g] as number) * (solved[at] as number)
    }
    along[tuple] = sum / 2
  }
}

/** x times (residual less what the determinant takes) over all cells; that amount by tuple replaces `along`. */
function addCells({ data, chance, gradient }: Workspace, halves: Float64Array, along: Float64Array): void {
  const { tuples, cellStart, successes, trials, x, width } = data
  let cell = 0
  let at = 0
  for (let tuple = 0; tuple < tuples; tuple++) {
    const end = cellStart[tuple + 1] as number
    const half = halves[tuple] as number
    const shift = along[tuple] as number
    let total = 0
    for (; cell < end; cell++) {
      const p = chance[cell] as number
      const tried = trials[cell] as number
      const w = tried * p * (1 - p)
      const amount = (successes[cell] as number) - tried * p - w * ((1 - 2 * p) * half - shift)
      total += amount
      for (let column = 0; column < width; column++, at++) {
        gradient[column] = (gradient[column] as number) + amount * (x[at] as number)
      }
    }
    along[tuple] = total
  }
}

/** u times the same amounts, for the standard deviations, and what the modes' own shift with them takes. */
function addLevels({ data, gradient, u, solved, levelResidual }: Workspace, amounts: Float64Array): void {
  const { tuples, tupleOuter, tupleColumn, width, outerLevels, levels, offsets } = data
  const inner = levels.length - 1
  for (let g = 0; g <= inner; g++) {
    let sum = 0
    const from = offsets[g] as number
    for (let i = from; i < from + (levels[g] as number); i++) {
      sum -= ((solved[i] as number) * (levelResidual[i] as number)) / 2
    }
    for (let tuple = 0; tuple < tuples; tuple++) {
      const at =
        g === 0 ? (tupleOuter[tuple] as number) : outerLevels + (tupleColumn[tuple * inner + g - 1] as number)
      sum += (amounts[tuple] as number) * (u[at] as number)
    }
    gradient[width + g] = (gradient[width + g] as number) + sum
  }
}

/**
 * The exact gradient of the Laplace log-likelihood, the shift of the modes with the parameters included, at modes found
 * and H factored. It needs only zᵀH⁻¹z of each tuple and one solve.
 */
export function laplaceGradient(space: Workspace): void {
  const { data, gradient, parameters, precisions, halves, shift } = space
  gradient.fill(0)
  invertHessian(space)
  takeLeverages(space, halves)
  solveForModeShift(space, halves)
  lookAlong(space, shift)
  addCells(space, halves, shift)
  addLevels(space, shift)
  for (let column = 0; column < data.width; column++) {
    const pull = (precisions[column] as number) * (parameters[column] as number)
    gradient[column] = (gradient[column] as number) - pull
  }
}
