import type { StoreKind } from '#lib/platform/generated/enums.ts'

/** A lot's time in a store, and what is known of that store without a thermometer. */
export interface StayInStore {
  readonly storeId: string
  readonly storeKind: StoreKind
  /** What the store's keeper last noted as its usual temperature, °C. */
  readonly typedCelsius: number | null
  readonly from: Date
  readonly to: Date | null
}
