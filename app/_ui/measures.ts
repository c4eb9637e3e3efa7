/** How a person reads temperatures and lengths. */
export type TemperatureUnit = 'C' | 'F'
export type LengthUnit = 'cm' | 'in'

const centimetresPerInch = 2.54
const minus = '−'

const signed = (value: number) => (value < 0 ? `${minus}${-value}` : String(value))

function inUnit(celsius: number, unit: TemperatureUnit): number {
  const value = unit === 'C' ? celsius : celsius * 1.8 + 32
  const rounded = unit === 'C' ? Math.round(value * 10) / 10 : Math.round(value)
  return Object.is(rounded, -0) ? 0 : rounded
}

/** "4 °C", "3.5 °C"; whole degrees in Fahrenheit. */
export const temperature = (celsius: number, unit: TemperatureUnit): string =>
  `${signed(inUnit(celsius, unit))} °${unit}`

/** "5 to 25 °C". */
export const temperatureRange = (low: number, high: number, unit: TemperatureUnit): string =>
  `${signed(inUnit(low, unit))} to ${temperature(high, unit)}`

/** What a person typed in their unit, in °C. */
export const toCelsius = (value: number, unit: TemperatureUnit): number =>
  unit === 'C' ? value : (value - 32) / 1.8

/** A short length: "20 cm", or to the half inch "8 in". */
export function length(centimetres: number, unit: LengthUnit): string {
  if (unit === 'cm') return `${Math.round(centimetres * 10) / 10} cm`
  return `${Math.round((centimetres / centimetresPerInch) * 2) / 2} in`
}

/** What a person typed in their unit, in centimetres. */
export const toCentimetres = (value: number, unit: LengthUnit): number =>
  unit === 'cm' ? value : value * centimetresPerInch

/** A height on a tree: "1.05 m", or in feet to the quarter "3.5 ft". */
export function height(metres: number, unit: LengthUnit): string {
  if (unit === 'cm') return `${Math.round(metres * 100) / 100} m`
  return `${Math.round((metres * 100 * 4) / centimetresPerInch / 12) / 4} ft`
}

/**
 * A modelled share, 0 to 1, rounded to 5 or 10: "about 20 %". Under 3 % it is "hardly any", from 97 % "all of it":
 * the model knows no better.
 */
export function spokenShare(share: number): string {
  if (share < 0.03) return 'hardly any'
  if (share >= 0.97) return 'all of it'
  const step = share < 0.3 ? 5 : 10
  return `about ${Math.min(95, Math.max(5, Math.round((share * 100) / step) * step))} %`
}

/** "31 of 36". */
export const countOf = (part: number, whole: number): string => `${part} of ${whole}`

/** "1 stick", "3 sticks"; an irregular plural is given. */
export const counted = (count: number, one: string, many = `${one}s`): string =>
  `${count} ${count === 1 ? one : many}`

const numerals = ['No', 'One', 'Two', 'Three', 'Four', 'Five', 'Six', 'Seven', 'Eight', 'Nine', 'Ten']

/** A count at the head of a sentence: "Two", "12". */
export const numeral = (count: number): string => numerals[count] ?? String(count)
