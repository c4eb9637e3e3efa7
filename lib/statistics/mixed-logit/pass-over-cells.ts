import type { Workspace } from '#lib/statistics/mixed-logit/workspace.ts'

/** The random part of each tuple's log-odds into `shift`. */
function setShifts({ data, parameters, u, shift }: Workspace): void {
  const { tuples, tupleOuter, tupleColumn, width, outerLevels, levels } = data
  const inner = levels.length - 1
  const outerSd = parameters[width] as number
  for (let tuple = 0; tuple < tuples; tuple++) {
    shift[tuple] = outerSd * (u[tupleOuter[tuple] as number] as number)
  }
  for (let g = 0; g < inner; g++) {
    const sd = parameters[width + 1 + g] as number
    for (let tuple = 0; tuple < tuples; tuple++) {
      const at = outerLevels + (tupleColumn[tuple * inner + g] as number)
      shift[tuple] = (shift[tuple] as number) + sd * (u[at] as number)
    }
  }
}

/** Log-likelihood, chances, and each tuple's residual and weight. */
function passOverTuples({ data, linear, chance, residual, weight, shift }: Workspace): number {
  const { tuples, cellStart, successes, trials } = data
  let value = 0
  let cell = 0
  for (let tuple = 0; tuple < tuples; tuple++) {
    const end = cellStart[tuple + 1] as number
    const by = shift[tuple] as number
    let residualSum = 0
    let weightSum = 0
    for (; cell < end; cell++) {
      const logOdds = (linear[cell] as number) + by
      const small = Math.exp(-Math.abs(logOdds))
      const share = 1 / (1 + small)
      const p = logOdds < 0 ? small * share : share
      const tried = trials[cell] as number
      const took = successes[cell] as number
      chance[cell] = p
      // log(1 + e^x) = max(x, 0) + log(1 + e^−|x|).
      value += (logOdds > 0 ? took - tried : took) * logOdds - tried * Math.log1p(small)
      residualSum += took - tried * p
      weightSum += tried * small * share * share
    }
    residual[tuple] = residualSum
    weight[tuple] = weightSum
  }
  return value
}

function addUpByLevel({ data, residual, levelResidual }: Workspace): void {
  const { tuples, tupleOuter, tupleColumn, outerLevels, levels } = data
  const inner = levels.length - 1
  levelResidual.fill(0)
  for (let tuple = 0; tuple < tuples; tuple++) {
    const sum = residual[tuple] as number
    const outer = tupleOuter[tuple] as number
    levelResidual[outer] = (levelResidual[outer] as number) + sum
    for (let g = 0; g < inner; g++) {
      const at = outerLevels + (tupleColumn[tuple * inner + g] as number)
      levelResidual[at] = (levelResidual[at] as number) + sum
    }
  }
}

/**
 * The log-likelihood (without binomial coefficients) at the present fixed and random effects, less ½|u|²; leaves
 * chances, residuals and weights.
 */
export function passOverCells(space: Workspace): number {
  setShifts(space)
  let value = passOverTuples(space)
  addUpByLevel(space)
  for (const u of space.u) value -= (u * u) / 2
  return value
}
