import { type TemperatureUnitSaid, unitIn } from '#lib/formats/csv/logger-columns.ts'

export type CelsiusRead =
  | { readonly kind: 'celsius'; readonly celsius: number }
  /** A number, but in which unit nobody has said. */
  | { readonly kind: 'no-unit' }
  | { readonly kind: 'no-number' }
  /** No store has this, °C. */
  | { readonly kind: 'absurd'; readonly celsius: number }

/** No place where wood is kept is outside this range, °C; the windows refuse it too. */
const plausible = { low: -40, high: 50 }

/** °C to the hundredth that a reading keeps. */
const toCelsius = (value: number, unit: TemperatureUnitSaid) =>
  Math.round((unit === 'F' ? (value - 32) / 1.8 : value) * 100) / 100

/**
 * Reads a temperature: a point or a comma before its decimals, any kind of minus, its unit behind it or not.
 *
 * @param unit what counts when the cell itself does not say.
 */
export function readCelsius(text: string, unit: TemperatureUnitSaid | null): CelsiusRead {
  const found = /^([+-]?)\s*(\d{1,4})(?:[.,](\d{1,6}))?\s*(.*)$/.exec(text.replace(/[−–—]/g, '-'))
  if (!found) return { kind: 'no-number' }
  const [, sign, whole, decimals = '0', suffix = ''] = found
  const said = suffix === '' ? null : unitIn(suffix)
  if (suffix !== '' && !said) return { kind: 'no-number' }
  const from = said ?? unit
  if (!from) return { kind: 'no-unit' }
  const celsius = toCelsius(Number(`${sign}${whole}.${decimals}`), from)
  const isPlausible = celsius >= plausible.low && celsius <= plausible.high
  return isPlausible ? { kind: 'celsius', celsius: celsius === 0 ? 0 : celsius } : { kind: 'absurd', celsius }
}
