import type { Interval } from '#lib/statistics/interval.ts'
import { type Forecast, requireForecasts } from '#lib/statistics/require-forecasts.ts'
import { scoreInterval } from '#lib/statistics/score-interval.ts'

export interface CalibrationBin {
  /** The mean forecast in it. */
  readonly predicted: number
  readonly successes: number
  readonly trials: number
  readonly rate: number
  /** Wilson's, on the effective number of trials. */
  readonly interval: Interval
}

export interface BinRules {
  /** At most so many bins; 9 at the most are read easily. */
  readonly most: number
  /** At least so many trials in each. */
  readonly fewest: number
  /** By how much the number of trials is divided, for the batches they come in. */
  readonly designEffect: number
}

const usual: BinRules = { most: 9, fewest: 20, designEffect: 1 }

/** Forecasts of about equal weight together, those of the same value always so. */
function inBins(forecasts: readonly Forecast[], size: number): Forecast[][] {
  const rising = forecasts.filter(({ trials }) => trials > 0).sort((a, b) => a.predicted - b.predicted)
  const bins: Forecast[][] = []
  let weight = Infinity
  for (const forecast of rising) {
    const bin = bins.at(-1)
    if (bin && (weight < size || bin.at(-1)?.predicted === forecast.predicted)) {
      bin.push(forecast)
      weight += forecast.trials
    } else {
      bins.push([forecast])
      weight = forecast.trials
    }
  }
  const last = bins.at(-1)
  if (last && bins.length > 1 && weight < size) {
    bins.pop()
    bins.at(-1)?.push(...last)
  }
  return bins
}

/**
 * Forecasts in bins of rising value, with what came of each bin. No bin has fewer than `fewest` trials, unless there are
 * fewer in all. Throws RangeError for impossible counts or forecasts, and when there are none.
 */
export function calibrationBins(
  forecasts: readonly Forecast[],
  rules: Partial<BinRules> = {},
): readonly CalibrationBin[] {
  const { most, fewest, designEffect } = { ...usual, ...rules }
  const total = requireForecasts(forecasts)
  return inBins(forecasts, Math.max(fewest, total / most)).map((bin) => {
    const trials = bin.reduce((sum, forecast) => sum + forecast.trials, 0)
    const successes = bin.reduce((sum, forecast) => sum + forecast.successes, 0)
    const predicted = bin.reduce((sum, forecast) => sum + forecast.trials * forecast.predicted, 0) / trials
    const rate = successes / trials
    return { predicted, successes, trials, rate, interval: scoreInterval(rate, trials / designEffect) }
  })
}
