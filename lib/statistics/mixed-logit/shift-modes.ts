import { solveHessian } from '#lib/statistics/mixed-logit/solve-hessian.ts'
import type { Workspace } from '#lib/statistics/mixed-logit/workspace.ts'

/** The change of each tuple's log-odds at unmoved u, from the standard deviations alone, into `shift`. */
function setChanges({ data, u, shift }: Workspace, change: Float64Array): void {
  const { tuples, width, tupleOuter, tupleColumn, outerLevels, levels } = data
  const inner = levels.length - 1
  for (let tuple = 0; tuple < tuples; tuple++) {
    let sum = (change[width] as number) * (u[tupleOuter[tuple] as number] as number)
    for (let g = 0; g < inner; g++) {
      const at = outerLevels + (tupleColumn[tuple * inner + g] as number)
      sum += (change[width + 1 + g] as number) * (u[at] as number)
    }
    shift[tuple] = sum
  }
}

/** −zᵀ w times the change of each cell's log-odds, added up by level into `solved`. */
function addWeightedChange(space: Workspace, change: Float64Array): void {
  const { data, chance, parameters, solved, shift } = space
  const { tuples, cellStart, trials, x, width, tupleOuter, tupleColumn, outerLevels, levels } = data
  const inner = levels.length - 1
  let cell = 0
  let place = 0
  for (let tuple = 0; tuple < tuples; tuple++) {
    const end = cellStart[tuple + 1] as number
    let sum = 0
    for (; cell < end; cell++) {
      const p = chance[cell] as number
      let logOdds = shift[tuple] as number
      for (let column = 0; column < width; column++, place++) {
        logOdds += (change[column] as number) * (x[place] as number)
      }
      sum += (trials[cell] as number) * p * (1 - p) * logOdds
    }
    const outer = tupleOuter[tuple] as number
    solved[outer] = (solved[outer] as number) - sum * (parameters[width] as number)
    for (let g = 0; g < inner; g++) {
      const at = outerLevels + (tupleColumn[tuple * inner + g] as number)
      solved[at] = (solved[at] as number) - sum * (parameters[width + 1 + g] as number)
    }
  }
}

/**
 * Moves u along its derivative by a change of the parameters, to first order: the modes of the new parameters are then
 * one or two cheap steps away.
 */
export function shiftModes(space: Workspace, change: Float64Array): void {
  const { data, u, solved, levelResidual } = space
  const { levels, offsets, width } = data
  solved.fill(0)
  setChanges(space, change)
  addWeightedChange(space, change)
  for (let g = 0; g < levels.length; g++) {
    const by = change[width + g] as number
    const to = (offsets[g] as number) + (levels[g] as number)
    for (let i = offsets[g] as number; i < to; i++) {
      solved[i] = (solved[i] as number) + by * (levelResidual[i] as number)
    }
  }
  solveHessian(space, solved)
  for (let i = 0; i < u.length; i++) u[i] = (u[i] as number) + (solved[i] as number)
}
