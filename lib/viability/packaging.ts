/**
 * How sticks are packed, and what share of their fresh mass they lose in a day for each kPa that the air falls short
 * of saturation. Conventions of this program.
 */
export const waterLossPerDayAndKpa = {
  bare: 0.02,
  paper: 0.012,
  open_bag: 0.004,
  sealed_bag: 0.0008,
  double_bag: 0.0003,
  waxed_sealed: 0.0002,
  sealed_damp: 0.000_05,
} as const

export type Packaging = keyof typeof waterLossPerDayAndKpa
