import type { NotAllowed } from '#lib/access/policy.ts'
import type { CivilDate } from '#lib/kernel/civil-date.ts'
import type { LedgerRefusal } from '#lib/ledger/refusals.ts'

/** A lot of a form, counted from 1, and what about it is refused. */
interface OfLot {
  readonly lot: number
}

/** Why something about wood or its stores was refused. */
export type WoodRefusal =
  | LedgerRefusal
  | NotAllowed
  | { readonly kind: 'not-your-wood' }
  | { readonly kind: 'not-your-store' }
  | { readonly kind: 'no-such-member' }
  | { readonly kind: 'day-to-come'; readonly today: CivilDate }
  | { readonly kind: 'before-it-came'; readonly cameOn: CivilDate }
  | { readonly kind: 'already-there'; readonly store: string }
  | { readonly kind: 'store-closed'; readonly store: string }
  | { readonly kind: 'name-taken'; readonly name: string }
  | { readonly kind: 'store-holds-wood'; readonly lots: number }
  | { readonly kind: 'read-already' }
  | ({ readonly kind: 'no-such-limb' } & OfLot)
  | ({ readonly kind: 'limb-gone'; readonly limb: string } & OfLot)
  | ({ readonly kind: 'limb-held'; readonly limb: string; readonly reason: string } & OfLot)
  | ({ readonly kind: 'no-such-store' } & OfLot)
  | { readonly kind: 'corrected-elsewhere'; readonly where: 'claim' | 'attempt' }
  | { readonly kind: 'is-a-correction' }
