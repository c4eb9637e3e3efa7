import { requireCelsius } from '#lib/viability/require-celsius.ts'

/** From above which temperature (°C) an hour is worth how many units; the upper bound of each step is inside it. */
const steps: readonly (readonly [aboveC: number, units: number])[] = [
  [18, -1],
  [15.9, -0.5],
  [12.4, 0],
  [9.1, 0.5],
  [2.4, 1],
  [1.4, 0.5],
]

/**
 * Utah chill units of hourly readings (°C): warmth takes units away, so that the sum can be below zero.
 *
 * Source: Richardson, Seeley & Walker 1974, HortScience 9:331–332, table in °C as in the R package chillR 0.77; the
 * table in °F is another one. Not meant for warm climates. Throws a RangeError for a number that is no temperature.
 *
 * @example utahChillUnits([1.4, 1.5, 6, 16]) // 0 + 0.5 + 1 − 0.5 = 1
 */
export function utahChillUnits(hourlyC: readonly number[]): number {
  requireCelsius(hourlyC)
  const unitsOf = (celsius: number) => steps.find(([aboveC]) => celsius > aboveC)?.[1] ?? 0
  return hourlyC.reduce((sum, celsius) => sum + unitsOf(celsius), 0)
}
