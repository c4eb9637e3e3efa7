import type { ChillRates } from '#lib/viability/chill-rates.ts'

/**
 * Whole hours, at least one, until the intermediate of the Dynamic Model reaches 1 at one temperature; Infinity if
 * it never does. It closes in on its equilibrium exponentially, so the hours are a logarithm, rounded up.
 */
export function hoursToPortion(
  intermediate: number,
  { kept, built, equilibrium, breaking }: ChillRates,
): number {
  if (intermediate * kept + built >= 1) return 1
  if (equilibrium <= 1) return Infinity
  const short = equilibrium - intermediate
  const hours = Math.max(2, Math.ceil(Math.log(short / (equilibrium - 1)) / breaking))
  // The logarithm may be an hour out by rounding.
  const reached = equilibrium - short * Math.exp(-breaking * hours)
  if (reached < 1) return hours + 1
  return equilibrium - (equilibrium - reached) / kept >= 1 ? hours - 1 : hours
}
