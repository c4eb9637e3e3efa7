import { climbLogit, type FlatLogit } from '#lib/statistics/climb-logit.ts'
import { invertPositive } from '#lib/statistics/dense/invert-positive.ts'
import { logBinomials } from '#lib/statistics/log-binomials.ts'
import type { MixedLogitInput } from '#lib/statistics/mixed-logit/mixed-logit-input.ts'
import { requireRows } from '#lib/statistics/mixed-logit/require-rows.ts'
import { unboundedColumns } from '#lib/statistics/unbounded-columns.ts'

/** An effect on the log-odds and its standard error. */
export interface Coefficient {
  readonly estimate: number
  readonly standardError: number
}

export interface LogitFit {
  /** In the order of the design's columns. */
  readonly coefficients: readonly Coefficient[]
  /** Their covariance matrix, row by row. */
  readonly covariance: readonly (readonly number[])[]
  /** With binomial coefficients. */
  readonly logLikelihood: number
  /** Twice what a perfect fit would gain in log-likelihood. */
  readonly deviance: number
  /** Σ (observed − expected)² ÷ variance; over the degrees of freedom, the dispersion. */
  readonly pearson: number
  /** The fitted rate of each row. */
  readonly fitted: readonly number[]
  readonly iterations: number
  readonly converged: boolean
  /** Columns whose estimate the data do not bound (separation). */
  readonly unbounded: readonly number[]
}

type LogitInput = Omit<MixedLogitInput, 'groupings'>

/** The expected gain at which a climb ends, of the log-likelihood: rounding. */
const enough = 1e-16

function flatten(
  { successes, trials, fixed, priorStandardDeviations }: LogitInput,
  width: number,
): FlatLogit {
  const x = new Float64Array(fixed.length * width)
  for (let row = 0; row < fixed.length; row++) x.set(fixed[row] as ArrayLike<number>, row * width)
  return {
    successes: Float64Array.from(successes),
    trials: Float64Array.from(trials),
    x,
    precisions: Float64Array.from({ length: width }, (_, column) => {
      const sd = priorStandardDeviations?.[column]
      return sd ? 1 / sd ** 2 : 0
    }),
  }
}

/** Twice Σ observed × log (observed ÷ expected), and Pearson's statistic. */
function misfit(
  { successes, trials }: LogitInput,
  fitted: Float64Array,
): { deviance: number; pearson: number } {
  const term = (seen: number, expected: number) => (seen === 0 ? 0 : seen * Math.log(seen / expected))
  let deviance = 0
  let pearson = 0
  for (const [i, p] of fitted.entries()) {
    const tried = trials[i] as number
    const took = successes[i] as number
    if (tried === 0) continue
    deviance += 2 * (term(took, tried * p) + term(tried - took, tried * (1 - p)))
    const variance = tried * p * (1 - p)
    if (variance > 0) pearson += (took - tried * p) ** 2 / variance
  }
  return { deviance, pearson }
}

/**
 * Logistic regression of counts on the rows of a design matrix, by maximum likelihood; with
 * `priorStandardDeviations`, the posterior's mode under normal priors. Under separation the columns that run away are
 * named in `unbounded` and `converged` is false. Throws RangeError for impossible counts and for columns that depend
 * on one another.
 *
 * Source: Newton's method on the binomial log-likelihood, as in R's `glm(…, binomial)`.
 */
export function fitLogit(input: LogitInput): LogitFit {
  requireRows({ ...input, groupings: [] })
  const width = input.fixed[0]?.length ?? 0
  const summit = climbLogit(flatten(input, width), enough)
  const { beta, fitted, iterations, converged } = summit
  const full = summit.information.slice()
  for (let a = 0; a < width; a++) {
    for (let b = 0; b < a; b++) full[b * width + a] = full[a * width + b] as number
  }
  const inverse = invertPositive(full, width)
  const covariance = Array.from({ length: width }, (_, a) =>
    Array.from({ length: width }, (_, b) => inverse?.[a * width + b] ?? Number.POSITIVE_INFINITY),
  )
  const coefficients = covariance.map((row, a) => ({
    estimate: beta[a] as number,
    standardError: Math.sqrt(row[a] as number),
  }))
  const unbounded = unboundedColumns(input.fixed, coefficients, fitted)
  return {
    coefficients,
    covariance,
    logLikelihood: summit.value + logBinomials(input.successes, input.trials),
    ...misfit(input, fitted),
    fitted: [...fitted],
    iterations,
    converged: converged && unbounded.length === 0,
    unbounded,
  }
}
