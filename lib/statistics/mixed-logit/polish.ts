import type { Climb } from '#lib/statistics/mixed-logit/climb-near.ts'
import { evaluateLaplace } from '#lib/statistics/mixed-logit/evaluate-laplace.ts'
import { newtonDirection } from '#lib/statistics/mixed-logit/newton-direction.ts'
import type { Workspace } from '#lib/statistics/mixed-logit/workspace.ts'

const converged = 1e-13
const mostSteps = 6

/**
 * Newton steps with the observed information of the `free` parameters, from a place next to the summit. Returns whether
 * the expected gain of the next step is nothing but rounding; the workspace stands at the climb's parameters after.
 */
export function polish(
  space: Workspace,
  climb: Climb,
  free: readonly number[],
  information: Float64Array,
): boolean {
  for (let steps = 0; ; steps++) {
    climb.value = evaluateLaplace(space, climb.parameters)
    climb.gradient.set(space.gradient)
    const slope = Float64Array.from(free, (at) => climb.gradient[at] as number)
    const direction = newtonDirection(information, slope)
    if (!direction) return false
    const gain = direction.reduce((sum, by, i) => sum + by * (slope[i] as number), 0)
    if (gain < converged) return true
    if (steps === mostSteps) return false
    climb.iterations++
    for (const [i, at] of free.entries()) {
      climb.parameters[at] = (climb.parameters[at] as number) + (direction[i] as number)
    }
  }
}
