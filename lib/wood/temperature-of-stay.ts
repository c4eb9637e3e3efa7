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
/** A logger speaks for a stay when it wrote on at least this share of its days. */
const loggedShare = 0.8

const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length
const toHundredth = (value: number) => Math.round(value * 100) / 100

/**
 * The temperature to reckon with for one stay, °C, and how it is known. A logger that covered the stay gives its
 * mean. Otherwise the readings taken during the stay, together with what the keeper noted for the store, give the
 * lowest, the mean and the highest. With nothing read, the noted temperature stands alone, and without it the
 * range that is assumed for such a place. That a mean stands for a stay is a convention of this program.
 */
export function temperatureOfStay(
  stay: StayInStore,
  readings: readonly DayOfReadings[],
  asOf: Date,
): { readonly celsius: CelsiusRange; readonly basis: TemperatureBasis } {
  const endMs = (stay.to ?? asOf).getTime()
  const during = readings.filter(
    (day) => day.storeId === stay.storeId && day.dayMs + dayMs > stay.from.getTime() && day.dayMs <= endMs,
  )
  const logged = during.filter((day) => day.isLogged)
  const days = Math.max(1, (endMs - stay.from.getTime()) / dayMs)
  if (logged.length > 0 && logged.length >= days * loggedShare) {
    const celsius = toHundredth(mean(logged.map((day) => day.mean)))
    return { celsius: { low: celsius, mid: celsius, high: celsius }, basis: 'logger' }
  }
  if (during.length === 0) {
    return {
      celsius: assumedCelsius(stay.storeKind, stay.typedCelsius),
      basis: stay.typedCelsius === null ? 'assumed' : 'typed',
    }
  }
  const noted = stay.typedCelsius === null ? [] : [stay.typedCelsius]
  return {
    celsius: {
      low: Math.min(...noted, ...during.map((day) => day.lowest)),
      mid: toHundredth(mean([...noted, ...during.map((day) => day.mean)])),
      high: Math.max(...noted, ...during.map((day) => day.highest)),
    },
    basis: 'typed',
  }
}
