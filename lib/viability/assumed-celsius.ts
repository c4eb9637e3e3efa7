import { type CelsiusRange, unknownFridgeCelsius, unknownRoomCelsius } from '#lib/viability/scenarios.ts'

/** Where wood can be kept. Only a fridge is taken to be cold when nobody has read its thermometer. */
export type StoreKind = 'fridge' | 'cellar' | 'shed' | 'outdoors' | 'indoors' | 'post'

/**
 * The temperature to reckon with in a store, °C. A typed temperature is taken as read: low, mid and high are
 * equal, because the three scenarios already differ in everything else. Without one, a fridge is 2/4.5/8 and
 * every other place 5/12/25, so an unread cellar counts as warm until someone reads it.
 */
export function assumedCelsius(storeKind: StoreKind, typedCelsius: number | null): CelsiusRange {
  if (typedCelsius !== null) return { low: typedCelsius, mid: typedCelsius, high: typedCelsius }
  return storeKind === 'fridge' ? unknownFridgeCelsius : unknownRoomCelsius
}
