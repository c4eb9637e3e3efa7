import { requireCelsius } from '#lib/viability/require-celsius.ts'

/** Base, optimum and critical temperature, °C. */
const baseC = 4
const optimumC = 25
const criticalC = 36

function degreeHours(celsius: number): number {
  if (celsius < baseC || celsius > criticalC) return 0
  const span = optimumC - baseC
  if (celsius <= optimumC) {
    return (span / 2) * (1 + Math.cos(Math.PI + (Math.PI * (celsius - baseC)) / span))
  }
  return span * (1 + Math.cos((Math.PI / 2) * (1 + (celsius - optimumC) / (criticalC - optimumC))))
}

/**
 * Growing degree hours of hourly readings (°C), by the two half cosines of ASYMCUR: 0 at 4 °C, 21 at 25 °C, 0 again
 * at 36 °C.
 *
 * Source: Anderson, Richardson & Kesner 1986, Acta Hort 184:71–78. For trees outdoors. It says that nothing moves at
 * 4 °C and below, so the window of stored wood does not use it. Throws a RangeError for a number that is no
 * temperature.
 *
 * @example growingDegreeHours([25, 25]) // 42
 */
export function growingDegreeHours(hourlyC: readonly number[]): number {
  requireCelsius(hourlyC)
  return hourlyC.reduce((sum, celsius) => sum + degreeHours(celsius), 0)
}
