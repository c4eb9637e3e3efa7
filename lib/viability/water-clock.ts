import { type Packaging, waterLossPerDayAndKpa } from '#lib/viability/packaging.ts'

/** Relative humidity around the packed sticks, as in a fridge nobody has measured. A convention of this program. */
const relativeHumidity = 0.5

/**
 * Share of the fresh mass that a stick loses in a day at a temperature (°C): by packaging, times the vapour pressure
 * deficit, 0.61078·exp(17.27·T/(T + 237.3))·(1 − RH) kPa (Tetens' formula, from memory).
 *
 * No curve of graft take against water loss was found. Apple bud stems survive drying from 50 to 30 % water, a loss of
 * 28.6 % of their mass (CryoLetters 2011–2018; the 50 % from memory), so the late limit of 25 % is a bound for hardy
 * wood and not a target.
 */
export function waterLossPerDay(packaging: Packaging, celsius: number): number {
  const saturationKpa = 0.610_78 * Math.exp((17.27 * celsius) / (celsius + 237.3))
  return waterLossPerDayAndKpa[packaging] * saturationKpa * (1 - relativeHumidity)
}
