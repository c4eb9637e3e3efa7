/** Absolute zero of the Dynamic Model, which adds 273 and not 273.15 to get kelvin. */
const lowestC = -273

/** Throws a RangeError unless every number is a temperature above absolute zero, °C. */
export function requireCelsius(hourlyC: readonly number[]): void {
  for (const [at, celsius] of hourlyC.entries()) {
    if (!(Number.isFinite(celsius) && celsius > lowestC)) {
      throw new RangeError(`Reading ${at + 1} is no temperature in °C: ${celsius}`)
    }
  }
}
