import type { Climb } from '#lib/statistics/mixed-logit/climb-near.ts'
import { evaluateLaplace } from '#lib/statistics/mixed-logit/evaluate-laplace.ts'
import type { Workspace } from '#lib/statistics/mixed-logit/workspace.ts'

/** A step in standard errors: small enough for the third derivative, large enough for rounding. */
const share = 3e-3
/** With so many cells the log-likelihood is a parabola over that step, and one side tells as much as both. */
const manyCells = 20_000

/**
 * The Hessian of −log-likelihood by the parameters in `free`, from differences of the exact gradient, on both sides where
 * the data are few; row by row, symmetric.
 */
export function observeInformation(space: Workspace, climb: Climb, free: readonly number[]): Float64Array {
  const size = climb.parameters.length
  const { width } = space.data
  const count = free.length
  const information = new Float64Array(count * count)
  const parameters = climb.parameters.slice()
  const signs = space.data.cells > manyCells ? [1] : [1, -1]
  for (const [row, at] of free.entries()) {
    const own = climb.information[at * (size + 1)] as number
    const value = climb.parameters[at] as number
    const wanted = share / Math.sqrt(own)
    const by = at < width ? wanted : Math.min(wanted, Math.abs(value) / 4)
    for (const sign of signs) {
      parameters[at] = value + sign * by
      evaluateLaplace(space, parameters)
      for (const [column, other] of free.entries()) {
        const change = signs.length === 1 ? (climb.gradient[other] as number) : 0
        const half = (sign * (change - (space.gradient[other] as number))) / (2 * signs.length * by)
        information[row * count + column] = (information[row * count + column] as number) + half
        information[column * count + row] = (information[column * count + row] as number) + half
      }
    }
    parameters[at] = value
  }
  return information
}
