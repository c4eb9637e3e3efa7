import type { Climb } from '#lib/statistics/mixed-logit/climb-near.ts'
import { evaluateLaplace } from '#lib/statistics/mixed-logit/evaluate-laplace.ts'
import type { Workspace } from '#lib/statistics/mixed-logit/workspace.ts'

/** Standard deviations of log-odds below this are tried at exactly 0. */
const suspicious = 0.1

/**
 * Sets those standard deviations to exactly 0 that are no use: where the likelihood is no lower without them. Returns
 * the parameters that stay free.
 */
export function dropIdleGroupings(space: Workspace, climb: Climb): number[] {
  const { width } = space.data
  const free = [...climb.parameters.keys()]
  for (const at of free.slice(width)) {
    if (Math.abs(climb.parameters[at] as number) > suspicious) continue
    const without = climb.parameters.slice()
    without[at] = 0
    const value = evaluateLaplace(space, without)
    if (value < climb.value) continue
    climb.parameters.set(without)
    climb.value = value
    climb.gradient.set(space.gradient)
    free.splice(free.indexOf(at), 1)
  }
  return free
}
