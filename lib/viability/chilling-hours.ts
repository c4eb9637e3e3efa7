import { requireCelsius } from '#lib/viability/require-celsius.ts'

/**
 * Hours that count as chilling: those with 0 ≤ T ≤ 7.2 °C, one for each reading (°C, hourly).
 *
 * Source: Weinberger 1950 (Proc Am Soc Hort Sci 56:122–128) after Bennett 1949, with the bounds as in the R package
 * chillR 0.77. 45 °F is 7.2222 °C and does not count. Throws a RangeError for a number that is no temperature.
 *
 * @example chillingHours([-0.1, 0, 7.2, 7.3]) // 2
 */
export function chillingHours(hourlyC: readonly number[]): number {
  requireCelsius(hourlyC)
  return hourlyC.filter((celsius) => celsius >= 0 && celsius <= 7.2).length
}
