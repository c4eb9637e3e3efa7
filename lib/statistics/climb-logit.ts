import { newtonDirection } from '#lib/statistics/mixed-logit/newton-direction.ts'

/** Counts and a design matrix, row by row in one array; the priors as 1 ÷ variance, 0 for none. */
export interface FlatLogit {
  readonly successes: Float64Array
  readonly trials: Float64Array
  readonly x: Float64Array
  readonly precisions: Float64Array
}

/** Where the climb ended, and what was seen there. */
export interface LogitSummit {
  readonly beta: Float64Array
  /** Log-likelihood without coefficients, less the priors. */
  readonly value: number
  /** The negative Hessian, lower triangle. */
  readonly information: Float64Array
  readonly fitted: Float64Array
  readonly iterations: number
  readonly converged: boolean
}

const mostIterations = 60

interface Look {
  readonly gradient: Float64Array
  readonly information: Float64Array
  readonly fitted: Float64Array
}

/** Fills the look at `beta`, and returns the value there. */
function lookAt({ successes, trials, x, precisions }: FlatLogit, beta: Float64Array, look: Look): number {
  const { gradient, information, fitted } = look
  const width = beta.length
  gradient.fill(0)
  information.fill(0)
  let value = 0
  for (let row = 0; row < fitted.length; row++) {
    const at = row * width
    let logOdds = 0
    for (let a = 0; a < width; a++) logOdds += (x[at + a] as number) * (beta[a] as number)
    const small = Math.exp(-Math.abs(logOdds))
    const share = 1 / (1 + small)
    const p = logOdds < 0 ? small * share : share
    const tried = trials[row] as number
    const residual = (successes[row] as number) - tried * p
    const weight = tried * small * share * share
    fitted[row] = p
    value += (successes[row] as number) * logOdds - tried * (Math.max(logOdds, 0) + Math.log1p(small))
    for (let a = 0; a < width; a++) {
      const scaled = weight * (x[at + a] as number)
      gradient[a] = (gradient[a] as number) + residual * (x[at + a] as number)
      for (let b = 0; b <= a; b++) {
        const entry = a * width + b
        information[entry] = (information[entry] as number) + scaled * (x[at + b] as number)
      }
    }
  }
  for (let a = 0; a < width; a++) {
    const pull = (precisions[a] as number) * (beta[a] as number)
    value -= (pull * (beta[a] as number)) / 2
    gradient[a] = (gradient[a] as number) - pull
    information[a * (width + 1)] = (information[a * (width + 1)] as number) + (precisions[a] as number)
  }
  return value
}

/**
 * Newton's method on the logistic log-likelihood, from 0, until the expected gain is below `enough` (of the value).
 * Throws RangeError when the columns of the design depend on one another.
 */
export function climbLogit(data: FlatLogit, enough: number): LogitSummit {
  const width = data.precisions.length
  const beta = new Float64Array(width)
  const look = {
    gradient: new Float64Array(width),
    information: new Float64Array(width * width),
    fitted: new Float64Array(data.trials.length),
  }
  let value = lookAt(data, beta, look)
  for (let iterations = 0; ; iterations++) {
    const direction = newtonDirection(look.information, look.gradient)
    if (!direction && iterations === 0) {
      throw new RangeError('The columns of the design depend on one another')
    }
    const gain = direction?.reduce((sum, by, i) => sum + by * (look.gradient[i] as number), 0) ?? 0
    const isThere = direction !== null && gain < enough * (1 + Math.abs(value))
    if (!direction || isThere || iterations === mostIterations) {
      return { beta, value, ...look, iterations, converged: isThere }
    }
    const before = beta.slice()
    for (let share = 1; ; share /= 2) {
      for (let a = 0; a < width; a++) beta[a] = (before[a] as number) + share * (direction[a] as number)
      const reached = lookAt(data, beta, look)
      if (reached >= value - 1e-9 || share < 1e-6) {
        value = reached
        break
      }
    }
  }
}
