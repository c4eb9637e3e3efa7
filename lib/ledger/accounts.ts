/** Where the sticks of a lot can be. `cut` is the source: what was cut stands there as a negative number. */
export type StickAccount =
  | 'cut'
  | 'store'
  | 'promised'
  | 'unnamed'
  | 'parcel'
  | 'used'
  | 'destroyed'
  | 'lost'
  | `member:${string}`

/** The account of sticks that are with a member. */
export const memberAccount = (memberId: string): StickAccount => `member:${memberId}`
