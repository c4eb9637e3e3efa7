/** Throws RangeError unless `successes` of `trials` can be. */
export function requireCounts(successes: number, trials: number): void {
  const arePossible =
    Number.isSafeInteger(successes) && Number.isSafeInteger(trials) && successes >= 0 && successes <= trials
  if (!arePossible) throw new RangeError(`There cannot be ${successes} successes in ${trials} trials`)
}
