/** Rate constants of the Dynamic Model: activation energies over R (K) and frequency factors (per hour). */
const buildingEnergy = 4153.5
const breakingEnergy = 12888.8
const buildingFactor = 139_500
const breakingFactor = 2.567e18
/** The sigmoid by which the intermediate becomes a portion: its slope and its middle, K. */
const slope = 1.6
const middleKelvin = 277
/** The model was published with 273, not 273.15. */
const kelvinOffset = 273

/** What one hour at a temperature does to the intermediate of the Dynamic Model. */
export interface ChillRates {
  /** How fast the intermediate breaks down again, per hour. */
  readonly breaking: number
  /** What is left after an hour of what was there before it, as a share. */
  readonly kept: number
  /** What an hour adds. */
  readonly built: number
  /** Where the intermediate would settle if no portion were ever taken. */
  readonly equilibrium: number
  /** The share of the intermediate that becomes a portion once it has reached 1. */
  readonly fixed: number
}

/**
 * The constants of an hour at a temperature (°C, above −273).
 *
 * Source: Fishman, Erez & Couvillon 1987, J Theor Biol 124:473–483 and 126:309–321, parameters as in the R package
 * chillR 0.77. The hour's gain is written as what is built, not as a share of the equilibrium, which overflows in
 * great cold; the two are equal.
 */
export function chillRates(celsius: number): ChillRates {
  const kelvin = celsius + kelvinOffset
  const breaking = breakingFactor * Math.exp(-breakingEnergy / kelvin)
  const building = buildingFactor * Math.exp(-buildingEnergy / kelvin)
  const broken = -Math.expm1(-breaking)
  return {
    breaking,
    kept: 1 - broken,
    built: breaking === 0 ? building : (building * broken) / breaking,
    equilibrium: building / breaking,
    fixed: 1 / (1 + Math.exp((-slope * middleKelvin * (kelvin - middleKelvin)) / kelvin)),
  }
}
