import type { ChillRates } from '#lib/viability/chill-rates.ts'
import { hoursToPortion } from '#lib/viability/hours-to-portion.ts'

/** Some portions in a row, as what they make of the intermediate x they start from: both sums are affine in x. */
export interface ChillRhythm {
  readonly hours: number
  /** x afterwards is slope·x + offset. */
  readonly slope: number
  readonly offset: number
  /** The portions made are perIntermediate·x + fixedPortions. */
  readonly perIntermediate: number
  readonly fixedPortions: number
}

/** Where one rhythm turns into another as the temperature rises, rows get long, and longer ones are not looked for. */
const longestRow = 16

/** Whether the portions made from here on come after the same hours as those of the row. */
function keepsTime(row: readonly number[], from: number, rates: ChillRates): boolean {
  let intermediate = from
  return row.every((hours) => {
    if (hoursToPortion(intermediate, rates) !== hours) return false
    const kept = Math.exp(-rates.breaking * hours)
    intermediate = (rates.equilibrium * (1 - kept) + kept * intermediate) * (1 - rates.fixed)
    return true
  })
}

/**
 * The row of portions that repeats for ever at one temperature of the Dynamic Model, from this intermediate on; null
 * when none is found that fits into `left` hours.
 *
 * From one portion to the next, n hours later, x goes to (equilibrium·(1 − e) + e·x)·(1 − fixed), with e what n hours
 * keep: a rising affine map, and so is a row of them. The starting points whose portions come after the same hours
 * are an interval. If the fixed point of a row keeps its hours too, so does every point between, and x moves to the
 * fixed point without passing it. Only a row that comes back closer than all shorter ones can repeat.
 */
export function chillRhythm(intermediate: number, rates: ChillRates, left: number): ChillRhythm | null {
  const row: number[] = []
  let [hours, slope, offset, perIntermediate, fixedPortions] = [0, 1, 0, 0, 0]
  let closest = Infinity
  while (row.length < longestRow) {
    const next = hoursToPortion(slope * intermediate + offset, rates)
    hours += next
    if (hours > left) return null
    row.push(next)
    const kept = Math.exp(-rates.breaking * next)
    const reached = rates.equilibrium * (1 - kept) + kept * offset
    perIntermediate += rates.fixed * kept * slope
    fixedPortions += rates.fixed * reached
    slope *= kept * (1 - rates.fixed)
    offset = reached * (1 - rates.fixed)
    const apart = Math.abs(slope * intermediate + offset - intermediate)
    if (apart >= closest) continue
    closest = apart
    if (keepsTime(row, offset / (1 - slope), rates)) {
      return { hours, slope, offset, perIntermediate, fixedPortions }
    }
  }
  return null
}
