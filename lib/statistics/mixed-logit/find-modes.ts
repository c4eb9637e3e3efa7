import { factorHessian } from '#lib/statistics/mixed-logit/factor-hessian.ts'
import { passOverCells } from '#lib/statistics/mixed-logit/pass-over-cells.ts'
import { solveHessian } from '#lib/statistics/mixed-logit/solve-hessian.ts'
import type { Workspace } from '#lib/statistics/mixed-logit/workspace.ts'

const enough = 1e-17
const mostSteps = 60

/** The Newton step at the present u by the last factor; returns the decrement gᵀH⁻¹g. */
function newtonStep(space: Workspace): number {
  const { data, parameters, u, levelResidual, step, solved } = space
  const { levels, offsets, width } = data
  for (let g = 0; g < levels.length; g++) {
    const sd = parameters[width + g] as number
    const to = (offsets[g] as number) + (levels[g] as number)
    for (let i = offsets[g] as number; i < to; i++) {
      step[i] = sd * (levelResidual[i] as number) - (u[i] as number)
    }
  }
  solved.set(step)
  solveHessian(space, solved)
  let decrement = 0
  for (let i = 0; i < step.length; i++) decrement += (step[i] as number) * (solved[i] as number)
  return decrement
}

function move(u: Float64Array, step: Float64Array, share: number): void {
  for (let i = 0; i < u.length; i++) u[i] = (u[i] as number) + share * (step[i] as number)
}

/** Goes along the step, halving it while the value falls by more than rounding. */
function takeStep(space: Workspace, value: number): number {
  const { u, solved } = space
  move(u, solved, 1)
  let reached = passOverCells(space)
  for (let share = 0.5; reached < value - 1e-9 * (1 + Math.abs(value)) && share > 1e-9; share /= 2) {
    move(u, solved, -share)
    reached = passOverCells(space)
  }
  return reached
}

/**
 * Moves u to where the penalised likelihood is highest for the present parameters, factors H there, and returns the
 * Laplace log-likelihood without its constants. While steps with the last factor converge fast, no new one is made.
 */
export function findModes(space: Workspace): number {
  let value = passOverCells(space)
  let before = Number.POSITIVE_INFINITY
  for (let steps = 0; steps < mostSteps; steps++) {
    if (!space.isFactored) factorHessian(space)
    let decrement = newtonStep(space)
    if (decrement > enough && decrement > before * 0.02) {
      factorHessian(space)
      decrement = newtonStep(space)
    }
    if (decrement <= enough || (decrement < 1e-13 && decrement > before * 0.5)) break
    value = takeStep(space, value)
    before = decrement
  }
  return value - factorHessian(space) / 2
}
