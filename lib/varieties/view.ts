import type { CivilDate } from '#lib/kernel/civil-date.ts'
import type {
  IdentityBasis,
  NameCertainty,
  ProtectionStatus,
  SynonymKind,
} from '#lib/platform/generated/enums.ts'

export interface TaxonChoice {
  readonly key: string
  readonly genus: string
  readonly species: string
  readonly commonName: string
  readonly family: string
}

export interface VarietyChoice {
  readonly id: string
  readonly name: string
  /** The botanical name. */
  readonly taxonName: string
  readonly commonName: string
}

export interface SynonymView {
  readonly id: string
  readonly name: string
  readonly kind: SynonymKind
}

interface Protection {
  readonly protection: ProtectionStatus
  readonly protectionCheckedOn: CivilDate | null
  /** Kept out of swaps this year unless a steward overrides it. */
  readonly needsOverride: boolean
}

export interface VarietyRow extends Protection {
  readonly id: string
  readonly name: string
  readonly taxonName: string
  readonly commonName: string
  readonly nameCertainty: NameCertainty
  readonly synonyms: readonly SynonymView[]
  /** The other name through which a search found it; null when its own name did. */
  readonly foundAs: string | null
  /** Limbs that are still there. */
  readonly limbs: number
}

/** Whether wood of this family is shared here at all. */
export type Sharing = 'shared' | 'blocked' | 'group-said-no'

export interface VarietyView extends Omit<VarietyRow, 'foundAs' | 'limbs'> {
  readonly taxonKey: string
  readonly family: string
  readonly note: string | null
  readonly protectionNote: string | null
  readonly introducedYear: number | null
  readonly sharing: Sharing
  readonly growing: readonly {
    readonly limbId: string
    readonly treeCode: string
    readonly mark: string
    readonly keeperName: string
    readonly place: string | null
    readonly identity: IdentityBasis
    readonly goneOn: CivilDate | null
  }[]
  /** Lots ever cut of it, and grafts or cuttings ever made of it. */
  readonly lots: number
  readonly attempts: number
  readonly mayEdit: boolean
  readonly mayLiftProtection: boolean
}
