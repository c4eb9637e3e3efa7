import { type Coefficient, fitLogit } from '#lib/statistics/fit-logit.ts'
import { type Forecast, requireForecasts } from '#lib/statistics/require-forecasts.ts'

export interface CalibrationLine {
  /** Log-odds seen = intercept + slope × log-odds forecast. A slope below 1 says that the forecasts were too bold. */
  readonly intercept: Coefficient
  readonly slope: Coefficient
  /** The intercept with the slope held at 1: below 0 says that the forecasts were too high. */
  readonly inTheLarge: Coefficient
  readonly converged: boolean
  /** Whether there is enough for a verdict: 100 successes and 100 failures (a common rule, from memory). */
  readonly isEnough: boolean
}

/** Forecasts of 0 and 1 have no log-odds: they are taken as a thousandth off. */
const nearest = 0.001
const enough = 100

const logOddsOf = (share: number) => {
  const held = Math.min(1 - nearest, Math.max(nearest, share))
  return Math.log(held / (1 - held))
}

/** Newton's method in one dimension, from 0, on Σ (successes − trials × p(shift + log-odds)). */
function shiftOf(forecasts: readonly Forecast[]): Coefficient {
  let estimate = 0
  for (let step = 0; ; step++) {
    let slope = 0
    let information = 0
    for (const { predicted, successes, trials } of forecasts) {
      const p = 1 / (1 + Math.exp(-(estimate + logOddsOf(predicted))))
      slope += successes - trials * p
      information += trials * p * (1 - p)
    }
    if (Math.abs(slope) < 1e-11 * information || step === 50) {
      return { estimate, standardError: 1 / Math.sqrt(information) }
    }
    // A stride of 2 log-odds at most: from far away Newton's own would overshoot.
    estimate += Math.max(-2, Math.min(2, slope / information))
  }
}

/**
 * Whether forecasts of a rate say what came: a logistic regression of the outcomes on the forecasts' log-odds. Null when
 * everything took or nothing did, or all forecasts are the same, so that no line can be drawn. Throws RangeError for
 * impossible counts or forecasts, and when there are none.
 *
 * Source: D. R. Cox 1958, Biometrika 45:562–565 (from memory); as `val.prob` of R's rms.
 */
export function calibrationLine(forecasts: readonly Forecast[]): CalibrationLine | null {
  const total = requireForecasts(forecasts)
  const rows = forecasts.filter(({ trials }) => trials > 0)
  const took = rows.reduce((sum, { successes }) => sum + successes, 0)
  const logOdds = rows.map(({ predicted }) => logOddsOf(predicted))
  if (took === 0 || took === total || new Set(logOdds).size < 2) return null
  const fit = fitLogit({
    successes: rows.map(({ successes }) => successes),
    trials: rows.map(({ trials }) => trials),
    fixed: logOdds.map((value) => [1, value]),
  })
  const [intercept, slope] = fit.coefficients
  if (!intercept || !slope) return null
  const isEnough = took >= enough && total - took >= enough
  return { intercept, slope, inTheLarge: shiftOf(rows), converged: fit.converged, isEnough }
}
