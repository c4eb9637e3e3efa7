import type { Look } from '#lib/attempts/next-look.ts'
import type { MethodKind } from '#lib/grafting/methods.ts'
import type { CivilDate } from '#lib/kernel/civil-date.ts'

/** A dated look at an attempt. */
export interface CheckView {
  readonly id: string
  readonly checkedOn: CivilDate
  readonly seq: number
  readonly alive: number
  readonly dead: number
  readonly unknown: number
  readonly note: string | null
  readonly recordedBy: string
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
