/** Limits between which a rate is thought to lie, as shares of 1. */
export interface Interval {
  readonly low: number
  readonly high: number
}
