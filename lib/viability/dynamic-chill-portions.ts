import { chillRates } from '#lib/viability/chill-rates.ts'
import { requireCelsius } from '#lib/viability/require-celsius.ts'

/**
 * Chill portions of hourly readings (°C) by the Dynamic Model. N readings make N − 1 steps, each an hour at the
 * reading it starts with, as in the R package chillR 0.77: the last reading only ends the last hour. The portions
 * are not additive: the same hours in another order give another sum, and warmth undoes a portion half made.
 *
 * Source: Fishman, Erez & Couvillon 1987, J Theor Biol 124:473–483 and 126:309–321; Erez et al. 1990, Acta Hort
 * 276:165–174. Throws a RangeError for a number that is no temperature.
 *
 * @example dynamicChillPortions(Array(720).fill(6)) // 24.43256441
 */
export function dynamicChillPortions(hourlyC: readonly number[]): number {
  requireCelsius(hourlyC)
  let intermediate = 0
  let portions = 0
  for (const celsius of hourlyC.slice(0, -1)) {
    const { kept, built, fixed } = chillRates(celsius)
    intermediate = intermediate * kept + built
    if (intermediate >= 1) {
      portions += intermediate * fixed
      intermediate *= 1 - fixed
    }
  }
  return portions
}
