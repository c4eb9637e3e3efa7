import { findModes } from '#lib/statistics/mixed-logit/find-modes.ts'
import { laplaceGradient } from '#lib/statistics/mixed-logit/laplace-gradient.ts'
import { shiftModes } from '#lib/statistics/mixed-logit/shift-modes.ts'
import type { Workspace } from '#lib/statistics/mixed-logit/workspace.ts'

function setLinear({ data, parameters, linear }: Workspace): void {
  const { cells, width, x } = data
  for (let cell = 0; cell < cells; cell++) {
    let sum = 0
    for (let column = 0; column < width; column++) {
      sum += (x[cell * width + column] as number) * (parameters[column] as number)
    }
    linear[cell] = sum
  }
}

/**
 * The Laplace log-likelihood at `parameters`, less the priors and without binomial coefficients; its gradient is left
 * in the workspace, and the modes are those of `parameters` from here on.
 */
export function evaluateLaplace(space: Workspace, parameters: Float64Array): number {
  if (space.isFactored) {
    // The gradient's room serves for the change: it is written anew below.
    const change = space.gradient
    for (let i = 0; i < change.length; i++) {
      change[i] = (parameters[i] as number) - (space.parameters[i] as number)
    }
    shiftModes(space, change)
  }
  space.parameters.set(parameters)
  setLinear(space)
  let value = findModes(space)
  for (let column = 0; column < space.data.width; column++) {
    value -= ((space.precisions[column] as number) * (parameters[column] as number) ** 2) / 2
  }
  laplaceGradient(space)
  return value
}
