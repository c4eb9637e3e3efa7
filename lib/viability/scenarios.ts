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
  /** Which end of an uncertain temperature this run reads. */
  readonly reads: keyof CelsiusRange
}

/** The three runs. Their constants are conventions of this program, calibrated to sparse trials. */
export const scenarios: Readonly<Record<ScenarioName, Scenario>> = {
  early: { lifeFactor: 0.6, q10: 3, reads: 'high' },
  likely: { lifeFactor: 1, q10: 2.5, reads: 'mid' },
  late: { lifeFactor: 1.6, q10: 2, reads: 'low' },
}

/** A fridge whose temperature nobody has read, °C. A convention of this program. */
export const unknownFridgeCelsius: CelsiusRange = { low: 2, mid: 4.5, high: 8 }

/** A room, porch, shed or parcel whose temperature nobody has read, °C. A convention of this program. */
export const unknownRoomCelsius: CelsiusRange = { low: 5, mid: 12, high: 25 }
