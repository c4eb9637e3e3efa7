/** A temperature known only within limits, °C. Equal numbers mean that it is known. */
export interface CelsiusRange {
  readonly low: number
  readonly mid: number
  readonly high: number
}

export type ScenarioName = 'early' | 'likely' | 'late'

/** One of the three runs of the model. All the cautious choices together make an envelope, not a percentile. */
export interface Scenario {
  /** Multiplies the life of the profile. */
  readonly lifeFactor: number
  /** How many times faster the wood burns its reserve for each 10 °C. */
  readonly q10: number
  /** Multiplies the forcing hours of the profile. */
  readonly forcingFactor: number
  /** Unchilled buds need e to this power times the warmth that chilled buds need. */
  readonly chillSensitivity: number
  /** Chill had on the tree before the cut, as a share of the group's requirement. */
  readonly chilledAtCut: number
  /** How far the buds are taken to be beyond what was seen at the cut, as a share of the way to bud break. */
  readonly budMarginAtCut: number
  /** Water that may be lost, as a share of the fresh mass. */
  readonly waterLossLimit: number
  /** Which end of an uncertain temperature this run reads. */
  readonly reads: keyof CelsiusRange
}

/**
 * The three runs. Their constants are conventions of this program, calibrated to sparse trials. The chill
 * sensitivity brackets how much longer grape buds took in November to January than in February and in March
 * (Alley & Peterson 1977, Am J Enol Vitic 28(1):1–7: 2.5 to 4 times).
 */
export const scenarios: Readonly<Record<ScenarioName, Scenario>> = {
  early: {
    lifeFactor: 0.6,
    q10: 3,
    forcingFactor: 0.7,
    chillSensitivity: Math.log(2.5),
    chilledAtCut: 1,
    budMarginAtCut: 0.1,
    waterLossLimit: 0.05,
    reads: 'high',
  },
  likely: {
    lifeFactor: 1,
    q10: 2.5,
    forcingFactor: 1,
    chillSensitivity: Math.log(3),
    chilledAtCut: 0.7,
    budMarginAtCut: 0,
    waterLossLimit: 0.12,
    reads: 'mid',
  },
  late: {
    lifeFactor: 1.6,
    q10: 2,
    forcingFactor: 1.4,
    chillSensitivity: Math.log(4),
    chilledAtCut: 0.4,
    budMarginAtCut: 0,
    waterLossLimit: 0.25,
    reads: 'low',
  },
}

/** A fridge whose temperature nobody has read, °C. A convention of this program. */
export const unknownFridgeCelsius: CelsiusRange = { low: 2, mid: 4.5, high: 8 }

/** A room, porch, shed or parcel whose temperature nobody has read, °C. A convention of this program. */
export const unknownRoomCelsius: CelsiusRange = { low: 5, mid: 12, high: 25 }
