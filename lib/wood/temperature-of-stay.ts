import type { StoreKind } from '#lib/platform/generated/enums.ts'
import { assumedCelsius } from '#lib/viability/assumed-celsius.ts'
import type { CelsiusRange } from '#lib/viability/scenarios.ts'
import type { TemperatureBasis } from '#lib/viability/storage-history.ts'

/** What was read in a store on one day (UTC), °C. */
export interface DayOfReadings {
  readonly storeId: string
  /** Midnight UTC at the start of the day, in milliseconds. */
  readonly dayMs: number
  readonly lowest: number
  readonly mean: number
  readonly highest: number
  /** Every reading of the day came from a logger. */
  readonly isLogged: boolean
}

export interface StayInStore {
  readonly storeId: string
  readonly storeKind: StoreKind
  /** What the store's keeper last noted as its usual temperature, °C. */
  readonly typedCelsius: number | null
  readonly from: Date
  readonly to: Date | null
}

const dayMs = 86_400_000
/** A logger speaks for a stay when it was never silent for longer than this. */
const longestSilenceMs = 4 * dayMs

const sum = (values: readonly number[]) => values.reduce((total, value) => total + value, 0)
const toHundredth = (value: number) => Math.round(value * 100) / 100

/** Whether days stand so close together that none of the time between two instants is far from one. */
function coversAll(days: readonly DayOfReadings[], fromMs: number, endMs: number): boolean {
  const marks = [fromMs, ...days.map((day) => day.dayMs).sort((a, b) => a - b), endMs]
  return marks.every((mark, i) => mark - (marks[i - 1] ?? mark) <= longestSilenceMs)
}

/**
 * The mean of some readings, with two standard errors to either side, but never beyond the lowest and the highest
 * of them: many readings tell the mean of a stay well, however much a fridge swings.
 */
function meanRange(values: readonly number[], lowest: number, highest: number): CelsiusRange {
  const mid = sum(values) / values.length
  const squares = sum(values.map((value) => (value - mid) ** 2))
  const doubt = values.length < 2 ? 0 : 2 * Math.sqrt(squares / (values.length - 1) / values.length)
  return {
    low: toHundredth(Math.max(Math.min(lowest, mid), mid - doubt)),
    mid: toHundredth(mid),
    high: toHundredth(Math.min(Math.max(highest, mid), mid + doubt)),
  }
}

/**
 * The temperature to reckon with for one stay, °C, and how it is known. A logger that covered the stay stands alone;
 * otherwise what the keeper noted for the store counts as one reading more. With nothing read, the noted temperature
 * is taken as it stands, and without it the range that is assumed for such a place. That the mean of the daily means
 * stands for a stay, and two standard errors for the doubt in it, are conventions of this program.
 */
export function temperatureOfStay(
  stay: StayInStore,
  readings: readonly DayOfReadings[],
  asOf: Date,
): { readonly celsius: CelsiusRange; readonly basis: TemperatureBasis } {
  const fromMs = stay.from.getTime()
  const endMs = (stay.to ?? asOf).getTime()
  const during = readings.filter(
    (day) => day.storeId === stay.storeId && day.dayMs + dayMs > fromMs && day.dayMs <= endMs,
  )
  if (during.length === 0) {
    return {
      celsius: assumedCelsius(stay.storeKind, stay.typedCelsius),
      basis: stay.typedCelsius === null ? 'assumed' : 'typed',
    }
  }
  const isLogged = during.every((day) => day.isLogged) && coversAll(during, fromMs, endMs)
  const noted = isLogged || stay.typedCelsius === null ? [] : [stay.typedCelsius]
  return {
    celsius: meanRange(
      [...noted, ...during.map((day) => day.mean)],
      Math.min(...noted, ...during.map((day) => day.lowest)),
      Math.max(...noted, ...during.map((day) => day.highest)),
    ),
    basis: isLogged ? 'logger' : 'typed',
  }
}
