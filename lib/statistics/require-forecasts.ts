import { requireCounts } from '#lib/statistics/require-counts.ts'

/** A forecast rate (a share of 1) and what became of it. */
export interface Forecast {
  readonly predicted: number
  readonly successes: number
  readonly trials: number
}

/** The number of trials in all. Throws RangeError for impossible counts or forecasts, and when there are no trials. */
export function requireForecasts(forecasts: readonly Forecast[]): number {
  let total = 0
  for (const { predicted, successes, trials } of forecasts) {
    requireCounts(successes, trials)
    if (!(predicted >= 0 && predicted <= 1))
      throw new RangeError(`A forecast lies between 0 and 1, not ${predicted}`)
    total += trials
  }
  if (total === 0) throw new RangeError('There are no outcomes to hold the forecasts against')
  return total
}
