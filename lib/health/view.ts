import type { CivilDate } from '#lib/kernel/civil-date.ts'
import type { ToolCare } from '#lib/platform/generated/enums.ts'
import type { LotRow } from '#lib/wood/lot-rows.ts'
import type { StickSums } from '#lib/wood/view.ts'

/** A hold in a list. */
export interface HoldRow {
  readonly holdId: string
  /** The lot held; null when the whole limb is. */
  readonly lotCode: string | null
  readonly limbId: string
  readonly treeCode: string
  readonly mark: string
  readonly limbsOnTree: number
  readonly varietyName: string | null
  readonly commonName: string | null
  readonly reason: string
  readonly placedBy: string
  readonly placedAt: Date
  readonly releasedBy: string | null
  readonly releasedAt: Date | null
  readonly releaseReason: string | null
  /** Lots it stops while it is open. */
  readonly lots: number
  /** Sticks of those lots that are still in a store, promised or not. */
  readonly sticksInStore: number
  readonly sticksPromised: number
}

export interface HeldLot {
  readonly lot: LotRow
  readonly sums: StickSums
  /** Who has sticks of it; empty for readers who may not see it. */
  readonly holders: readonly { readonly name: string; readonly sticks: number }[]
}

/** A lot cut by the same person with the same tool on the same day as a held one. */
export interface NeighbourLot {
  readonly code: string
  readonly varietyName: string | null
  readonly commonName: string | null
  readonly treeCode: string
  readonly cutOn: CivilDate
  readonly toolCare: ToolCare
  /** Whether it was cut after the held wood, and so could have caught something from the tool. */
  readonly isAfter: boolean
}

/** A hold with everything it concerns. */
export interface HoldView {
  readonly hold: HoldRow
  readonly timeZone: string
  readonly lots: readonly HeldLot[]
  readonly neighbours: readonly NeighbourLot[]
  readonly seesHolders: boolean
  readonly mayRelease: boolean
}
