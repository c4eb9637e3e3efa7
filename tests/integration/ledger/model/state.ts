import type { Actor } from '#lib/access/actor.ts'
import { can } from '#lib/access/policy.ts'
import { required } from '#lib/kernel/assert.ts'

/** A lot as the model knows it: where its sticks are, and what is on it. */
export interface ModelLot {
  readonly id: string
  readonly limb: number
  readonly cutterId: string
  store: number
  readonly sticks: Map<string, number>
}

export interface ModelOffering {
  readonly id: string
  readonly swap: number
  readonly lot: ModelLot
  sticksPerShare: number
  shares: number
  claimed: number
  isWithdrawn: boolean
}

export interface ModelClaim {
  readonly id: string
  readonly offering: ModelOffering
  readonly memberId: string
  readonly shares: number
  sticks: number
  status: 'promised' | 'handed_over' | 'cancelled'
}

/** An entry that can be corrected by itself. */
export interface ModelEntry {
  readonly id: string
  readonly lot: ModelLot
  readonly kind: 'cut' | 'walk_up' | 'destroy' | 'lose'
  readonly from: string
  readonly to: string
  readonly sticks: number
  readonly recordedBy: string
  isReversed: boolean
}

export interface ModelAttempt {
  readonly id: string
  readonly lot: ModelLot
  readonly account: string
  readonly sticks: number
  readonly growerId: string
  readonly recordedBy: string
  isWithdrawn: boolean
}

export interface ModelHold {
  readonly id: string
  readonly lot: ModelLot | null
  readonly limb: number | null
  isOpen: boolean
}

export interface ModelSwap {
  readonly id: string
  readonly capPerMember: number
  readonly capPerVariety: number
  status: 'open' | 'finished'
}

/** A limb with its variety and the person who keeps its tree. */
export interface ModelLimb {
  readonly id: string
  readonly varietyId: string
  readonly keeperId: string
}

/** Something that was accepted with a key, and can be sent again. */
export interface Sent {
  readonly label: string
  /** Sends it once more with the same key: as it was, or with other entries. */
  readonly again: (changed: boolean) => Promise<unknown>
  /** What has to be the same in the answer, ever after. */
  readonly answer: unknown
  readonly core: (value: unknown) => unknown
}

/** Everything that the ledger ought to hold, kept in the simplest way there is. */
export class Model {
  readonly lots: ModelLot[] = []
  readonly offerings: ModelOffering[] = []
  readonly claims: ModelClaim[] = []
  readonly entries: ModelEntry[] = []
  readonly attempts: ModelAttempt[] = []
  readonly holds: ModelHold[] = []
  readonly sent: Sent[] = []

  constructor(
    readonly actors: readonly Actor[],
    readonly limbs: readonly ModelLimb[],
    readonly stores: readonly string[],
    readonly swaps: readonly ModelSwap[],
  ) {}

  on(lot: ModelLot, account: string): number {
    return lot.sticks.get(account) ?? 0
  }

  move(lot: ModelLot, from: string, to: string, sticks: number): void {
    lot.sticks.set(from, this.on(lot, from) - sticks)
    lot.sticks.set(to, this.on(lot, to) + sticks)
  }

  isHeld(lot: ModelLot): boolean {
    return this.holds.some((hold) => hold.isOpen && (hold.lot === lot || hold.limb === lot.limb))
  }

  varietyOf(lot: ModelLot): string {
    return required(this.limbs[lot.limb], 'the limb of a lot').varietyId
  }

  /** Shares that a member has in a swap, of all wood or of one variety: promised or handed over. */
  taken(swap: number, memberId: string, varietyId: string | null): number {
    return this.claims
      .filter(
        (claim) =>
          claim.status !== 'cancelled' &&
          claim.memberId === memberId &&
          claim.offering.swap === swap &&
          (varietyId === null || this.varietyOf(claim.offering.lot) === varietyId),
      )
      .reduce((sum, claim) => sum + claim.shares, 0)
  }

  settle(claim: ModelClaim): void {
    claim.status = 'cancelled'
    claim.offering.claimed -= claim.shares
    this.move(claim.offering.lot, 'promised', 'store', claim.sticks)
  }
}

/** One of a list, whatever number was drawn; undefined when the list is empty. */
export const pick = <Item>(items: readonly Item[], drawn: number): Item | undefined =>
  items[drawn % Math.max(1, items.length)]

export const mayTend = (actor: Actor, lot: ModelLot): boolean =>
  can(actor, 'keep-stores') || actor.memberId === lot.cutterId
