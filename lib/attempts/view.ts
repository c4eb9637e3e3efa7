import type { Look } from '#lib/attempts/next-look.ts'
import type { WrapKey } from '#lib/grafting/care-schedule.ts'
import type { MethodKind } from '#lib/grafting/methods.ts'
import type { CivilDate } from '#lib/kernel/civil-date.ts'

/** A picture as pages show it. */
export interface PhotoView {
  readonly id: string
  readonly width: number
  readonly height: number
}

/** A dated look at an attempt. */
export interface CheckView {
  readonly id: string
  readonly checkedOn: CivilDate
  readonly seq: number
  readonly alive: number
  readonly dead: number
  readonly unknown: number
  /** Why pieces are not known, where it is one of the usual reasons. */
  readonly unknownWhy: 'not_attempted' | 'label_lost' | null
  /** The look of the plan that it answers. */
  readonly checkpoint: string | null
  /** How the living stood: a key of `check-states.ts`. */
  readonly state: string | null
  readonly note: string | null
  readonly recordedBy: string
  /** Answered through a mailed link. */
  readonly isByLink: boolean
  readonly photos: readonly PhotoView[]
  readonly causes: readonly { readonly cause: string; readonly label: string; readonly pieces: number }[]
  /** True when a later entry corrects this one. */
  readonly isCorrected: boolean
  readonly correctsId: string | null
}

/** An attempt as lists show it. */
export interface AttemptView {
  readonly id: string
  readonly varietyId: string
  readonly varietyName: string
  readonly commonName: string
  readonly method: {
    readonly key: string
    readonly name: string
    readonly kind: MethodKind
    readonly successWord: 'took' | 'rooted'
  }
  readonly treatment: string | null
  readonly stock: string | null
  readonly hostTreeCode: string | null
  readonly hostLimbMark: string | null
  /** What holds it; null when nobody said. */
  readonly wrap: WrapKey | null
  readonly lot: { readonly id: string; readonly code: string; readonly cutOn: CivilDate } | null
  readonly grower: { readonly id: string; readonly name: string }
  readonly madeOn: CivilDate
  readonly pieces: number
  readonly sticksUsed: number
  readonly withdrawn: { readonly reason: string } | null
  /** The look that counts. */
  readonly standing: CheckView | null
  readonly looks: readonly Look[]
}

/** An attempt with everything that is known of it. */
export interface AttemptDetail extends AttemptView {
  /** Of a cutting; null where nobody said. */
  readonly nodes: number | null
  readonly bottomHeatC: number | null
  readonly hormone: boolean | null
  /** Its place among the entries of one morning, which hands grow tired over. */
  readonly batch: { readonly place: number; readonly of: number } | null
  readonly note: string | null
  readonly skill: 'first_ten' | 'ten_to_hundred' | 'over_hundred' | 'not_said'
  readonly recordedBy: string
  readonly recordedAt: Date
  readonly ownLimb: { readonly treeCode: string; readonly mark: string } | null
  /** All looks, the latest day first. */
  readonly checks: readonly CheckView[]
  /** Limbs recorded as grown from it. */
  readonly limbs: readonly { readonly treeCode: string; readonly mark: string }[]
  readonly isHeld: boolean
  readonly mayChange: boolean
}

/** Sticks that a member has in hand. */
export interface ReceivedWood {
  readonly lotId: string
  readonly code: string
  /** Null for wood without a name. */
  readonly varietyId: string | null
  readonly varietyName: string | null
  readonly commonName: string | null
  readonly cutOn: CivilDate
  readonly sticks: number
  readonly isHeld: boolean
}
