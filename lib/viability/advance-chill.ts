import { chillRates } from '#lib/viability/chill-rates.ts'
import { chillRhythm } from '#lib/viability/chill-rhythm.ts'
import { hoursToPortion } from '#lib/viability/hours-to-portion.ts'

/** Where chilling stands: portions made, and the intermediate out of which the next one is made. */
export interface ChillState {
  readonly portions: number
  readonly intermediate: number
}

/**
 * Chilling after whole hours at one temperature (°C) by the Dynamic Model; equal to going through the hours but for
 * rounding. The hours to the first portion are a logarithm, rows of portions that repeat are a geometric series, and
 * what is left is gone through.
 */
export function advanceChill(state: ChillState, celsius: number, hours: number): ChillState {
  if (hours === 0) return state
  const rates = chillRates(celsius)
  const { kept, built, equilibrium, breaking, fixed } = rates
  let { portions, intermediate } = state
  const first = hoursToPortion(intermediate, rates)
  const toFirst = Math.min(first, hours)
  intermediate = equilibrium - (equilibrium - intermediate) * Math.exp(-breaking * toFirst)
  if (first > hours) return { portions, intermediate }
  portions += intermediate * fixed
  intermediate *= 1 - fixed
  let left = hours - first
  const rhythm = chillRhythm(intermediate, rates, left)
  if (rhythm) {
    const { slope, offset, perIntermediate, fixedPortions } = rhythm
    const repeats = Math.floor(left / rhythm.hours)
    const settled = offset / (1 - slope)
    const shrunk = slope ** repeats
    const sum = repeats * settled + ((intermediate - settled) * (1 - shrunk)) / (1 - slope)
    portions += perIntermediate * sum + repeats * fixedPortions
    intermediate = settled + (intermediate - settled) * shrunk
    left -= rhythm.hours * repeats
  }
  for (; left > 0; left--) {
    intermediate = intermediate * kept + built
    if (intermediate < 1) continue
    portions += intermediate * fixed
    intermediate *= 1 - fixed
  }
  return { portions, intermediate }
}
