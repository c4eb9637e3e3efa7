import type { CivilDate } from '#lib/kernel/civil-date.ts'

export type PledgeState = 'asked' | 'promised' | 'declined' | 'delivered' | 'short' | 'not_come' | 'withdrawn'

/** A request for wood, or a promise of it. */
export interface PledgeRow {
  readonly pledgeId: string
  readonly status: PledgeState
  readonly treeCode: string
  readonly mark: string
  readonly variety: { readonly id: string; readonly name: string; readonly commonName: string } | null
  readonly keeper: { readonly id: string; readonly name: string }
  readonly sticksAsked: number | null
  readonly sticksPromised: number | null
  readonly bringBy: CivilDate | null
  readonly askedBy: string | null
  readonly note: string | null
  /** Whether the actor may answer it. */
  readonly isYours: boolean
}

/** How often a keeper brought what was promised, over all swaps. For the organiser only. */
export interface KeeperHistory {
  readonly delivered: number
  readonly short: number
  readonly notCome: number
}
