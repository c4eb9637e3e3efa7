import type { MixedLogitInput } from '#lib/statistics/mixed-logit/mixed-logit-input.ts'
import { requireCounts } from '#lib/statistics/require-counts.ts'

/** Throws RangeError unless counts, design matrix and levels are whole and belong together. */
export function requireRows(input: MixedLogitInput): void {
  const { successes, trials, fixed, groupings, priorStandardDeviations: priors } = input
  const rows = successes.length
  const width = fixed[0]?.length ?? 0
  if (rows === 0 || width === 0) throw new RangeError('A fit needs at least one row and one column')
  if (trials.length !== rows || fixed.length !== rows || groupings.some((levels) => levels.length !== rows)) {
    throw new RangeError('Counts, design matrix and groupings have different numbers of rows')
  }
  for (let row = 0; row < rows; row++) requireCounts(successes[row] as number, trials[row] as number)
  for (const values of fixed) {
    if (values.length !== width) throw new RangeError('The rows of the design matrix differ in length')
    for (let column = 0; column < width; column++) {
      if (!Number.isFinite(values[column])) throw new RangeError(`Not a number: ${values[column]}`)
    }
  }
  for (const levels of groupings) {
    for (let row = 0; row < rows; row++) {
      const level = levels[row] as number
      if (!Number.isSafeInteger(level) || level < 0)
        throw new RangeError(`A level is a whole number, not ${level}`)
    }
  }
  if (priors && (priors.length !== width || priors.some((sd) => sd !== null && !(sd > 0)))) {
    throw new RangeError('A prior is a positive standard deviation or null, one for each column')
  }
}
