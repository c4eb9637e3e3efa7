import { climbLogit } from '#lib/statistics/climb-logit.ts'
import { invertPositive } from '#lib/statistics/dense/invert-positive.ts'
import { type Coefficient, fitLogit } from '#lib/statistics/fit-logit.ts'
import { logBinomials } from '#lib/statistics/log-binomials.ts'
import { arrangeCells } from '#lib/statistics/mixed-logit/arrange-cells.ts'
import { type Climb, climbNear } from '#lib/statistics/mixed-logit/climb-near.ts'
import { dropIdleGroupings } from '#lib/statistics/mixed-logit/drop-idle-groupings.ts'
import { evaluateLaplace } from '#lib/statistics/mixed-logit/evaluate-laplace.ts'
import type { MixedLogitInput } from '#lib/statistics/mixed-logit/mixed-logit-input.ts'
import { observeInformation } from '#lib/statistics/mixed-logit/observe-information.ts'
import { polish } from '#lib/statistics/mixed-logit/polish.ts'
import { requireRows } from '#lib/statistics/mixed-logit/require-rows.ts'
import { startingInformation } from '#lib/statistics/mixed-logit/starting-information.ts'
import { makeWorkspace, type Workspace } from '#lib/statistics/mixed-logit/workspace.ts'
import { unboundedColumns } from '#lib/statistics/unbounded-columns.ts'

/** Plain numbers throughout: it can be cloned out of a worker thread. */
export interface MixedLogitFit {
  readonly coefficients: readonly Coefficient[]
  /** The coefficients' covariance matrix, row by row, the standard deviations' uncertainty taken in. */
  readonly covariance: readonly (readonly number[])[]
  /** One for each grouping, of the log-odds; exactly 0 where the data tell of no difference. */
  readonly standardDeviations: readonly number[]
  /** For each grouping the most likely shift of the log-odds of each level. */
  readonly modes: readonly (readonly number[])[]
  /** With binomial coefficients. */
  readonly logLikelihood: number
  readonly iterations: number
  /** Whether the summit was found. False when a coefficient has no finite estimate. */
  readonly converged: boolean
  /** Columns of the design whose estimate the data do not bound: (nearly) separated, only a prior would help. */
  readonly unbounded: readonly number[]
}

const firstDeviation = 0.5
const nearEnough = 1e-6
/** Where the fixed effects alone run away, they are held by a prior of standard deviation 2.5 to begin with. */
const holdingPrecision = 0.16

/** The fixed effects as if there were no groupings, near enough to begin with. */
function startingParameters({ data, precisions }: Workspace): Float64Array {
  const { beta, converged } = climbLogit({ ...data, precisions }, nearEnough)
  const held = precisions.map((precision) => Math.max(precision, holdingPrecision))
  const start = converged ? beta : climbLogit({ ...data, precisions: held }, nearEnough).beta
  return Float64Array.from([...start, ...data.levels.map(() => firstDeviation)])
}

function startClimb(space: Workspace, parameters: Float64Array): Climb {
  const value = evaluateLaplace(space, parameters)
  return {
    parameters,
    value,
    gradient: space.gradient.slice(),
    information: startingInformation(space),
    iterations: 0,
  }
}

/** The covariance of the fixed effects: from the observed information, or from the starting one where that fails. */
function covarianceOf(space: Workspace, information: Float64Array, size: number): number[][] {
  const { width } = space.data
  const inverse = invertPositive(information, size)
  const [source, stride] = inverse
    ? [inverse, size]
    : [invertPositive(startingInformation(space), space.parameters.length), space.parameters.length]
  return Array.from({ length: width }, (_, row) =>
    Array.from({ length: width }, (_, column) => source?.[row * stride + column] ?? Number.POSITIVE_INFINITY),
  )
}

function describeFit(
  space: Workspace,
  input: MixedLogitInput,
  covariance: readonly (readonly number[])[],
): Omit<MixedLogitFit, 'logLikelihood' | 'iterations' | 'converged'> {
  const { width, order, levels, offsets } = space.data
  const coefficients = covariance.map((row, i) => ({
    estimate: space.parameters[i] as number,
    standardError: Math.sqrt(row[i] as number),
  }))
  const placeOf = input.groupings.map((_, g) => order.indexOf(g))
  const modes = placeOf.map((place) => {
    const from = offsets[place] as number
    const effects = space.u.subarray(from, from + (levels[place] as number))
    // Adding 0 makes −0 the same as 0.
    return Array.from(effects, (u) => u * (space.parameters[width + place] as number) + 0)
  })
  const standardDeviations = placeOf.map((place) => Math.abs(space.parameters[width + place] as number))
  const unbounded = unboundedColumns(input.fixed, coefficients, space.chance)
  return { coefficients, covariance, standardDeviations, modes, unbounded }
}

/**
 * A logistic regression with random intercepts for any number of crossed groupings, by the Laplace approximation at its
 * own maximum over fixed effects and standard deviations together (what `glmer` calls nAGQ = 1). Rows that look alike
 * are merged first, so the work depends on how many different ones there are. Standard errors come from the observed
 * information.
 *
 * A standard deviation may turn out exactly 0. Under (near) separation the columns that run away are named in
 * `unbounded` and `converged` is false; `priorStandardDeviations` holds them. Throws RangeError for impossible counts,
 * for rows that do not belong together, and for columns of the design that depend on one another. Pure, and both what
 * goes in and what comes out can be cloned: a long fit may run in a worker thread.
 *
 * Source: the algorithm of D. Bates, M. Mächler, B. Bolker and S. Walker 2015, J Stat Softw 67(1) (penalised least
 * squares in standardised effects), with the exact gradient of the Laplace approximation by implicit differentiation.
 *
 * @example fitMixedLogit({ successes, trials, fixed: rows.map((r) => [1, r.weeks]), groupings: [variety, grower] })
 */
export function fitMixedLogit(input: MixedLogitInput): MixedLogitFit {
  requireRows(input)
  if (input.groupings.length === 0) return { ...fitLogit(input), standardDeviations: [], modes: [] }
  const data = arrangeCells(input)
  const space = makeWorkspace(data, input.priorStandardDeviations ?? [])
  const climb = startClimb(space, startingParameters(space))
  const isNear = climbNear(space, climb)
  const free = dropIdleGroupings(space, climb)
  const information = observeInformation(space, climb, free)
  const isPolished = polish(space, climb, free, information)
  const fit = describeFit(space, input, covarianceOf(space, information, free.length))
  return {
    ...fit,
    logLikelihood: climb.value + logBinomials(input.successes, input.trials),
    iterations: climb.iterations,
    converged: isNear && isPolished && fit.unbounded.length === 0,
  }
}
