import { evaluateLaplace } from '#lib/statistics/mixed-logit/evaluate-laplace.ts'
import { newtonDirection } from '#lib/statistics/mixed-logit/newton-direction.ts'
import type { Workspace } from '#lib/statistics/mixed-logit/workspace.ts'

/** Where a climb stands. */
export interface Climb {
  readonly parameters: Float64Array
  value: number
  readonly gradient: Float64Array
  /** What is taken for the Hessian of −log-likelihood, row by row. */
  readonly information: Float64Array
  iterations: number
}

const near = 1e-7
const mostIterations = 100
/** A standard deviation of log-odds moves by at most this in one step. */
const longestStride = 1.5

const product = (a: Float64Array, b: Float64Array) =>
  a.reduce((sum, value, i) => sum + value * (b[i] as number), 0)

/** The BFGS update, damped after Powell so that the information stays positive definite. */
function updateInformation(information: Float64Array, step: Float64Array, change: Float64Array): void {
  const size = step.length
  const along = step.map((_, i) => product(information.subarray(i * size, (i + 1) * size), step))
  const curvature = product(step, along)
  const seen = product(step, change)
  const share = seen >= 0.2 * curvature ? 1 : (0.8 * curvature) / (curvature - seen)
  const damped = change.map((value, i) => share * value + (1 - share) * (along[i] as number))
  const scale = product(step, damped)
  for (let i = 0; i < size; i++) {
    for (let j = 0; j < size; j++) {
      const at = i * size + j
      information[at] =
        (information[at] as number) +
        ((damped[i] as number) * (damped[j] as number)) / scale -
        ((along[i] as number) * (along[j] as number)) / curvature
    }
  }
}

/** One step uphill along the direction, halved until it climbs. False when not even a tiny one does. */
function stride(space: Workspace, climb: Climb, direction: Float64Array, slope: number): boolean {
  const { width } = space.data
  const longest = direction.subarray(width).reduce((most, by) => Math.max(most, Math.abs(by)), 0)
  for (let share = Math.min(1, longestStride / longest); share > 1e-8; share /= 2) {
    const step = direction.map((by) => share * by)
    const parameters = climb.parameters.map((value, i) => value + (step[i] as number))
    const value = evaluateLaplace(space, parameters)
    const rounding = 1e-12 * Math.abs(value)
    if (!(value >= climb.value + 1e-4 * share * slope - rounding)) continue
    const change = climb.gradient.map((before, i) => before - (space.gradient[i] as number))
    updateInformation(climb.information, step, change)
    climb.parameters.set(parameters)
    climb.gradient.set(space.gradient)
    climb.value = value
    return true
  }
  return false
}

/** Climbs until the expected gain is negligible. Returns whether it got there. */
export function climbNear(space: Workspace, climb: Climb): boolean {
  for (; climb.iterations < mostIterations; climb.iterations++) {
    const direction = newtonDirection(climb.information, climb.gradient)
    if (!direction) return false
    const slope = product(direction, climb.gradient)
    if (slope < near) return true
    if (!stride(space, climb, direction, slope)) return false
  }
  return false
}
