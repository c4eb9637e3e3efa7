import type { Actor } from '#lib/access/actor.ts'
import { can } from '#lib/access/policy.ts'

/** The people whom a lot concerns. */
export interface LotPeople {
  readonly cutterId: string
  /** Who keeps the store it is in now. */
  readonly storeKeeperId: string | null
}

/** Whether the actor may move a lot or write off its sticks: helpers, whoever cut it, whoever keeps it. */
export const mayTendLot = (actor: Actor, { cutterId, storeKeeperId }: LotPeople): boolean =>
  can(actor, 'keep-stores') || actor.memberId === cutterId || actor.memberId === storeKeeperId

/** Whether the actor may change a store. */
export const mayKeepStore = (actor: Actor, keeperId: string | null | undefined): boolean =>
  can(actor, 'keep-stores') || actor.memberId === keeperId
