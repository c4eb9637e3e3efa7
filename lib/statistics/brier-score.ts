import normalCdf from '@stdlib/stats-base-dists-normal-cdf'
import { type Forecast, requireForecasts } from '#lib/statistics/require-forecasts.ts'

export interface BrierScore {
  /** The mean squared distance of forecast and outcome; 0 is perfect. */
  readonly score: number
  /** Its parts, over forecasts of the same value: score = reliability − resolution + uncertainty. */
  readonly reliability: number
  readonly resolution: number
  readonly uncertainty: number
  /** The share by which it beats forecasting the mean for everything; null when the outcomes do not differ. */
  readonly skill: number | null
  /** Spiegelhalter's test that the forecasts are what they say; null when they are all certain or all a half. */
  readonly spiegelhalter: { readonly z: number; readonly p: number } | null
}

/**
 * How good forecasts of a rate were. Throws RangeError for impossible counts or forecasts, and when there are none.
 *
 * Sources: G. W. Brier 1950, Mon Weather Rev 78:1–3; parts by A. H. Murphy 1973, J Appl Meteor 12:595–600; test by D.
 * Spiegelhalter 1986, Stat Med 5:421–433 (all from memory, checked against R's rms).
 */
export function brierScore(forecasts: readonly Forecast[]): BrierScore {
  const total = requireForecasts(forecasts)
  const mean = forecasts.reduce((sum, { successes }) => sum + successes, 0) / total
  const byValue = new Map<number, { successes: number; trials: number }>()
  let score = 0
  let surplus = 0
  let variance = 0
  for (const { predicted, successes, trials } of forecasts) {
    score += successes * (1 - predicted) ** 2 + (trials - successes) * predicted ** 2
    surplus += (successes - trials * predicted) * (1 - 2 * predicted)
    variance += trials * (1 - 2 * predicted) ** 2 * predicted * (1 - predicted)
    const same = byValue.get(predicted) ?? { successes: 0, trials: 0 }
    byValue.set(predicted, { successes: same.successes + successes, trials: same.trials + trials })
  }
  let reliability = 0
  let resolution = 0
  for (const [predicted, { successes, trials }] of byValue) {
    if (trials === 0) continue
    reliability += trials * (predicted - successes / trials) ** 2
    resolution += trials * (successes / trials - mean) ** 2
  }
  const uncertainty = mean * (1 - mean)
  const z = surplus / Math.sqrt(variance)
  return {
    score: score / total,
    reliability: reliability / total,
    resolution: resolution / total,
    uncertainty,
    skill: uncertainty === 0 ? null : 1 - score / total / uncertainty,
    spiegelhalter: variance === 0 ? null : { z, p: 2 * normalCdf(-Math.abs(z), 0, 1) },
  }
}
