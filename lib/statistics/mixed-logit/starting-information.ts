import { solveHessian } from '#lib/statistics/mixed-logit/solve-hessian.ts'
import type { Workspace } from '#lib/statistics/mixed-logit/workspace.ts'

/** Zᵀ W x for one column of the design, and Xᵀ W x into `row`. */
function weightColumn(space: Workspace, column: number, row: Float64Array): void {
  const { data, chance, parameters, step } = space
  const { tuples, cellStart, trials, x, width, tupleOuter, tupleColumn, outerLevels, levels } = data
  const inner = levels.length - 1
  step.fill(0)
  row.fill(0)
  for (let tuple = 0; tuple < tuples; tuple++) {
    let sum = 0
    for (let cell = cellStart[tuple] as number; cell < (cellStart[tuple + 1] as number); cell++) {
      const p = chance[cell] as number
      const amount = (trials[cell] as number) * p * (1 - p) * (x[cell * width + column] as number)
      sum += amount
      for (let other = 0; other < width; other++) {
        row[other] = (row[other] as number) + amount * (x[cell * width + other] as number)
      }
    }
    const outer = tupleOuter[tuple] as number
    step[outer] = (step[outer] as number) + sum * (parameters[width] as number)
    for (let g = 0; g < inner; g++) {
      const at = outerLevels + (tupleColumn[tuple * inner + g] as number)
      step[at] = (step[at] as number) + sum * (parameters[width + 1 + g] as number)
    }
  }
}

/** The expected information of each standard deviation, the levels of a grouping taken as independent. */
function informationOfDeviations(space: Workspace, size: number, information: Float64Array): void {
  const { levels, width, innerLevels } = space.data
  let column = 0
  levels.forEach((count, g) => {
    let sum = 0
    for (let level = 0; level < count; level++) {
      const own =
        g === 0
          ? (space.inverseDiagonal[level] as number)
          : (space.inverse[column * (innerLevels + 1)] as number)
      sum += (1 - own) ** 2
      if (g > 0) column++
    }
    const sd = space.parameters[width + g] as number
    information[(width + g) * (size + 1)] = (2 * sum) / (sd * sd) + 1e-6
  })
}

/**
 * An approximation of the Hessian of −log-likelihood to begin with: Xᵀ W X − Xᵀ W Z H⁻¹ Zᵀ W X for the fixed effects, the
 * expected information for the standard deviations.
 */
export function startingInformation(space: Workspace): Float64Array {
  const { data, parameters, precisions, step, solved } = space
  const { width } = data
  const size = parameters.length
  const information = new Float64Array(size * size)
  const row = new Float64Array(width)
  const columns = Array.from({ length: width }, (_, column) => {
    weightColumn(space, column, row)
    information.set(row, column * size)
    return step.slice()
  })
  for (let a = 0; a < width; a++) {
    solved.set(columns[a] as Float64Array)
    solveHessian(space, solved)
    for (let b = 0; b < width; b++) {
      let sum = 0
      for (let i = 0; i < solved.length; i++) sum += (solved[i] as number) * (columns[b]?.[i] as number)
      information[a * size + b] = (information[a * size + b] as number) - sum
    }
    information[a * (size + 1)] = (information[a * (size + 1)] as number) + (precisions[a] as number)
  }
  informationOfDeviations(space, size, information)
  return information
}
