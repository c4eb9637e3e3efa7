import type { CivilDate } from '#lib/kernel/civil-date.ts'
import type { DiameterBand, LotKind, MoveKind, Packaging, ToolCare } from '#lib/platform/generated/enums.ts'
import type { Lengthening } from '#lib/viability/longer-when-colder.ts'
import type { CelsiusRange } from '#lib/viability/scenarios.ts'
import type { TemperatureBasis } from '#lib/viability/storage-history.ts'
import type { InspectionFlag } from '#lib/wood/inspection-words.ts'
import type { LotRow, SticksByAccount } from '#lib/wood/lot-rows.ts'
import type { DayRead } from '#lib/wood/temperature-of-stay.ts'
import type { KeptWindow, LotWindow, Narrowing, NoWindow } from '#lib/wood/window-of-lot.ts'

/** Where the sticks of a lot are. All but `cut` add up to `cut`. */
export interface StickSums {
  readonly cut: number
  /** In the store and not promised. */
  readonly free: number
  readonly promised: number
  readonly withMembers: number
  /** Taken from the table without a name. */
  readonly unnamed: number
  readonly parcel: number
  readonly used: number
  readonly destroyed: number
  readonly lost: number
}

/** Sums the accounts of a lot. */
export function stickSums(sticks: SticksByAccount): StickSums {
  const on = (account: string) => sticks[account] ?? 0
  const withMembers = Object.entries(sticks)
    .filter(([account]) => account.startsWith('member:'))
    .reduce((sum, [, count]) => sum + count, 0)
  return {
    cut: -on('cut') || 0,
    free: on('store'),
    promised: on('promised'),
    withMembers,
    unnamed: on('unnamed'),
    parcel: on('parcel'),
    used: on('used'),
    destroyed: on('destroyed'),
    lost: on('lost'),
  }
}

/** One lot in a list. */
export interface WoodRow {
  readonly lotId: string
  readonly code: string
  readonly kind: LotKind
  readonly varietyName: string | null
  readonly commonName: string | null
  readonly cutOn: CivilDate
  readonly cutterName: string
  readonly budStage: number
  readonly storeName: string | null
  readonly sums: StickSums
  readonly isHeld: boolean
  /** What the latest look found wrong. */
  readonly flags: readonly InspectionFlag[]
  readonly window: KeptWindow | NoWindow
}

export const toWoodRow = (row: LotRow, window: KeptWindow | NoWindow): WoodRow => ({
  lotId: row.lotId,
  code: row.code,
  kind: row.kind,
  varietyName: row.varietyName,
  commonName: row.commonName,
  cutOn: row.cutOn,
  cutterName: row.cutterName,
  budStage: row.budStage,
  storeName: row.storeName,
  sums: stickSums(row.sticks),
  isHeld: row.hold !== null,
  flags: row.flags,
  window,
})

/** Which lots a list shows: with sticks in a store · free · past their early limit · on hold · none left · all. */
export const woodStates = ['kept', 'free', 'urgent', 'held', 'gone', 'all'] as const
export type WoodState = (typeof woodStates)[number]

/** In which order: what must be used first · latest cut · name. */
export const woodSorts = ['first', 'latest', 'name'] as const
export type WoodSort = (typeof woodSorts)[number]

/** Counts of a season's lots, whatever page of them is shown. */
export interface WoodCounts {
  readonly lots: number
  readonly kept: number
  readonly free: number
  readonly held: number
  readonly gone: number
  readonly sticksCut: number
  readonly sticksFree: number
  readonly sticksPromised: number
}

export interface WoodList {
  /** The year in which the season shown begins. */
  readonly season: number
  /** All seasons with wood, the latest first; the present one is always among them. */
  readonly seasons: readonly number[]
  readonly today: CivilDate
  /** The day of the group's next swap. */
  readonly swapDay: CivilDate | null
  readonly state: WoodState
  readonly sort: WoodSort
  readonly lots: readonly WoodRow[]
  /** Lots that pass the filter, on all pages. */
  readonly matching: number
  readonly page: number
  readonly pages: number
  readonly counts: WoodCounts
  /** Lots that still have sticks in a store. `key` is null for wood without a name. */
  readonly byCrop: readonly { readonly key: string | null; readonly label: string; readonly lots: number }[]
  readonly byStore: readonly { readonly id: string; readonly label: string; readonly lots: number }[]
}

/** A stay as the lot's page shows it. */
export interface StayView {
  readonly storeId: string
  readonly storeName: string
  readonly keeperName: string | null
  readonly from: CivilDate
  /** Null while it is still there. */
  readonly to: CivilDate | null
  readonly celsius: CelsiusRange
  readonly basis: TemperatureBasis
  /** What was read in it, by day. */
  readonly days: readonly DayRead[]
}

/** One entry of the stick ledger. A name is null where the reader may not see it. */
export interface MoveView {
  readonly moveId: string
  readonly kind: MoveKind
  readonly from: string
  readonly to: string
  readonly sticks: number
  readonly happenedAt: Date
  readonly recordedBy: string | null
  readonly onBehalfOf: string | null
  readonly reason: string | null
  readonly isReversed: boolean
  /** The entry that corrects this one, and the one that this corrects. */
  readonly reversedById: string | null
  readonly reversesId: string | null
  /** What lay free in the store after it. */
  readonly freeAfter: number
  readonly canBeCorrected: boolean
}

export interface ClaimOfLot {
  readonly claimId: string
  /** Null where the reader may not see it. */
  readonly memberName: string | null
  readonly isOwn: boolean
  readonly shares: number
  readonly sticks: number
  readonly isHandedOver: boolean
  readonly purpose: string | null
  readonly madeAt: Date
}

export interface OfferingOfLot {
  readonly offeringId: string
  readonly swapId: string
  readonly swapName: string
  readonly heldOn: CivilDate
  readonly isWithdrawn: boolean
  readonly sticksPerShare: number
  readonly shares: number
  readonly sharesClaimed: number
  readonly claims: readonly ClaimOfLot[]
}

export interface HoldOnLot {
  readonly holdId: string
  readonly onLimb: boolean
  readonly reason: string
  readonly placedBy: string
  readonly placedAt: Date
  readonly releasedBy: string | null
  readonly releasedAt: Date | null
  readonly releaseReason: string | null
}

/** Everything that is known of a lot. */
export interface LotView {
  readonly lot: LotRow
  readonly timeZone: string
  readonly sums: StickSums
  readonly window: LotWindow | NoWindow
  readonly narrowing: Narrowing | null
  readonly lengthening: Lengthening | null
  readonly stays: readonly StayView[]
  /** The day of the swap in which it is offered, or else of the group's next. */
  readonly swapDay: CivilDate | null
  /** A page of its ledger, the earliest first; the latest unless another was asked for. */
  readonly moves: readonly MoveView[]
  /** The entry up to which the page before this one goes; null where the story begins. */
  readonly earlierUpTo: string | null
  readonly offerings: readonly OfferingOfLot[]
  readonly holds: readonly HoldOnLot[]
  readonly mayTend: boolean
  readonly mayHold: boolean
}

export interface SessionLot {
  readonly lot: LotRow
  readonly sums: StickSums
  readonly window: KeptWindow | NoWindow
}

/** One person, one day, one tool: its lots in the order of cutting. */
export interface SessionView {
  readonly sessionId: string
  readonly cutterName: string
  readonly recordedBy: string
  readonly cutOn: CivilDate
  readonly tool: string | null
  readonly toolCare: ToolCare
  readonly weather: string | null
  readonly note: string | null
  readonly lots: readonly SessionLot[]
}

export interface StoreChoice {
  readonly id: string
  readonly name: string
  readonly keeperName: string | null
}

export interface OfferableLot {
  readonly lotId: string
  readonly code: string
  readonly varietyName: string
  readonly commonName: string
  readonly cutOn: CivilDate
  readonly inStore: number
  readonly kind: LotKind
  readonly diameter: DiameterBand
  readonly packaging: Packaging
}
