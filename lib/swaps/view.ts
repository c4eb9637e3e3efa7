import type { CivilDate } from '#lib/kernel/civil-date.ts'
import type {
  ClaimStatus,
  IdentityBasis,
  LotKind,
  NameCertainty,
  SwapStatus,
} from '#lib/platform/generated/enums.ts'
import type { Claiming } from '#lib/swaps/claim-times.ts'
import type { KeptWindow, NoWindow } from '#lib/wood/window-of-lot.ts'

/** A swap and how it stands now. */
export interface SwapView {
  readonly id: string
  readonly name: string
  readonly heldOn: CivilDate
  readonly place: string
  readonly status: SwapStatus
  readonly claimsOpenAt: Date
  readonly claimsCloseAt: Date
  readonly claiming: Claiming
  /** Shares that one member may hold over the whole swap. */
  readonly capPerMember: number
  /** Shares that one member may hold of one variety. */
  readonly capPerVariety: number
  /** Hours in which somebody from the waiting list answers an offer. */
  readonly waitingHours: number
  /** From when sticks that nobody fetched go back. */
  readonly noShowAt: Date | null
  readonly noShowsReleasedAt: Date | null
  readonly note: string | null
  /** Lots on offer. */
  readonly lots: number
}

/** A lot in a swap's catalogue, as a member sees it. */
export interface CatalogueRow {
  readonly offeringId: string
  readonly lotId: string
  readonly code: string
  readonly kind: LotKind
  readonly cutOn: CivilDate
  readonly varietyId: string | null
  readonly varietyName: string | null
  readonly varietyNote: string | null
  readonly nameCertainty: NameCertainty | null
  readonly taxonKey: string | null
  readonly commonName: string | null
  readonly identity: IdentityBasis
  readonly seenInLeafOn: CivilDate | null
  readonly healthNote: string | null
  readonly isHeld: boolean
  /** Where it stands on the day. */
  readonly note: string | null
  readonly sticksPerShare: number
  readonly shares: number
  readonly sharesClaimed: number
  /** Kept for people of the waiting list, to whom they are offered. */
  readonly sharesReserved: number
  /** People in the line for this lot. */
  readonly waiting: number
  /** Shares that can still be claimed. */
  readonly sharesLeft: number
  readonly sticksInStore: number
  readonly sticksPromised: number
  readonly sticksHandedOver: number
  /** How long the wood keeps. */
  readonly window: KeptWindow | NoWindow
  /** The asking member's own claims of this lot that were not given back. */
  readonly mine: readonly {
    readonly claimId: string
    readonly shares: number
    readonly status: ClaimStatus
  }[]
}

/** A lot in a swap as it is read, before anybody asks about windows or claims. */
export interface OfferedRow extends Omit<CatalogueRow, 'mine' | 'window'> {
  readonly storageProfile: string | null
  readonly timeZone: string
}

export interface CropCount {
  readonly key: string
  readonly name: string
  readonly lots: number
}

/** What a member holds of a swap, in shares. */
export interface Limits {
  readonly memberId: string
  readonly held: number
  readonly cap: number
  readonly capPerVariety: number
  /** Shares held of each variety, by its id. */
  readonly ofVariety: Readonly<Record<string, number>>
  /** Sticks promised or handed over. */
  readonly sticks: number
  /** Lots that they are of. */
  readonly lots: number
}

export interface Catalogue {
  readonly swap: SwapView
  /** Every crop among the lots that the search finds. */
  readonly crops: readonly CropCount[]
  readonly found: number
  /** Lots of those with shares left. */
  readonly stillFree: number
  readonly rows: readonly CatalogueRow[]
  readonly limits: Limits
}

/** A claim as its person and the people at the door see it. */
export interface ClaimView {
  readonly claimId: string
  readonly offeringId: string
  readonly lotId: string
  readonly code: string
  /** The variety that it counts for: what the wood was called when it was claimed. */
  readonly varietyId: string
  /** What it is called now. */
  readonly varietyName: string | null
  readonly taxonKey: string | null
  readonly commonName: string | null
  readonly memberId: string
  readonly memberName: string
  readonly shares: number
  readonly sticks: number
  readonly status: ClaimStatus
  readonly purpose: string | null
  readonly madeAt: Date
  /** When it was handed over or given back. */
  readonly settledAt: Date | null
  /** Why it was given back. */
  readonly givenBackBecause: string | null
  readonly isHeld: boolean
  /** Where the lot stands on the day. */
  readonly note: string | null
}

/** Somebody's open place in the line for a lot, or what came of it. */
export interface WaitingView {
  readonly waitingId: string
  readonly offeringId: string
  readonly code: string
  readonly varietyName: string | null
  readonly memberId: string
  readonly memberName: string
  readonly shares: number
  readonly sticksPerShare: number
  readonly status: 'waiting' | 'offered' | 'expired'
  /** 1 for the first in line; 0 for an offer that lapsed. */
  readonly place: number
  readonly offeredShares: number | null
  readonly expiresAt: Date | null
}

/** Somebody with claims in a swap. */
export interface HandOverPerson {
  readonly memberId: string
  readonly name: string
  readonly claimsPromised: number
  readonly sticksPromised: number
  readonly claimsHandedOver: number
  readonly sticksHandedOver: number
}

/** Sticks that went without a name. */
export interface WalkUpView {
  readonly moveId: string
  readonly code: string
  readonly varietyName: string | null
  readonly sticks: number
  readonly at: Date
  readonly isUndone: boolean
}
