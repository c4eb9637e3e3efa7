import type { CivilDate } from '#lib/kernel/civil-date.ts'
import type { IdentityBasis, LimbOrigin, LotKind } from '#lib/platform/generated/enums.ts'

export interface TreeRow {
  readonly treeId: string
  readonly code: string
  readonly keeperId: string
  readonly keeperName: string
  readonly place: string | null
  readonly rootstock: string | null
  readonly goneOn: CivilDate | null
  readonly onHold: boolean
  /** Limbs that are still there, or all of a tree that is gone, from the ground up. */
  readonly limbs: readonly {
    readonly mark: string
    readonly varietyName: string | null
    readonly commonName: string | null
  }[]
}

/** Where a limb came from: the graft or cutting, and the wood it was made of. */
export interface LimbLineage {
  readonly attemptId: string
  /** A key of `lib/grafting/methods`. */
  readonly method: string
  readonly madeOn: CivilDate
  readonly growerName: string
  readonly lotCode: string | null
  readonly donor: { readonly treeCode: string; readonly mark: string; readonly keeperName: string } | null
}

export interface LimbLot {
  readonly code: string
  readonly mark: string
  readonly cutOn: CivilDate
  readonly kind: LotKind
  /** As many as were cut, whatever became of them. */
  readonly sticks: number
}

export interface LimbView {
  readonly limbId: string
  readonly mark: string
  readonly variety: { readonly id: string; readonly name: string; readonly commonName: string } | null
  readonly heightCm: number | null
  readonly side: string | null
  readonly origin: LimbOrigin
  readonly identity: IdentityBasis
  readonly seenInLeafOn: CivilDate | null
  readonly healthNote: string | null
  readonly goneOn: CivilDate | null
  readonly hold: { readonly reason: string; readonly placedOn: CivilDate } | null
  readonly from: LimbLineage | null
  /** Whether a lot was cut from it since `seasonFrom` of the query. */
  readonly isDonor: boolean
  readonly lots: number
}

/** A limb elsewhere that grew from this tree's wood. */
export interface Offspring {
  readonly treeCode: string
  readonly mark: string
  readonly varietyName: string | null
  readonly keeperName: string
  readonly fromMark: string
  readonly goneOn: CivilDate | null
}

export interface TreeView {
  readonly treeId: string
  readonly code: string
  readonly keeper: { readonly id: string; readonly name: string }
  readonly rootstock: string | null
  readonly place: string | null
  readonly plantedOn: CivilDate | null
  readonly note: string | null
  readonly goneOn: CivilDate | null
  /** From the ground up; limbs of unknown height come last. */
  readonly limbs: readonly LimbView[]
  /** Every lot ever cut from it, the newest first. */
  readonly lots: readonly LimbLot[]
  readonly offspring: readonly Offspring[]
  readonly mayEdit: boolean
}

export interface LimbChoice {
  readonly limbId: string
  readonly treeCode: string
  readonly mark: string
  readonly varietyName: string | null
  readonly commonName: string | null
  readonly keeperName: string
  readonly onHold: boolean
}

export interface TreeChoice {
  readonly treeId: string
  readonly code: string
  readonly keeperName: string
  readonly place: string | null
  /** Names of what grows on it. */
  readonly varieties: readonly string[]
}

/** A graft on record that may have become a limb. */
export interface AttemptHint {
  readonly attemptId: string
  readonly varietyId: string
  readonly varietyName: string
  readonly method: string
  readonly madeOn: CivilDate
  readonly growerId: string
  readonly growerName: string
  readonly hostTreeId: string | null
  readonly hostTreeCode: string | null
}
