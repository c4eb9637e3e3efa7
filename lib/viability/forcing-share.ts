/** The logistic response of buds to warmth: its slope per °C and its middle, °C. */
const slope = 0.185
const middleC = 18.4
/** Warmer than this, buds move no faster; also the temperature that forcing is counted in hours of. */
const fullC = 25

const response = (celsius: number): number => 1 / (1 + Math.exp(-slope * (celsius - middleC)))

/**
 * How far an hour at a temperature (°C) brings buds, in hours at 25 °C: 0 at the base of the group and below, 1 at
 * 25 °C and above. A low base is what lets buds swell in a fridge, which growing degree hours deny.
 *
 * The logistic is that of Sarvas and Hänninen as the R package phenor has it; its constants are from memory and the
 * shift to the base is a convention of this program.
 */
export function forcingShare(celsius: number, baseC: number): number {
  const standstill = response(baseC)
  const moved = response(Math.min(celsius, fullC)) - standstill
  return Math.max(0, moved) / (response(fullC) - standstill)
}
