import type { NotAllowed } from '#lib/access/policy.ts'
import type { CivilDate } from '#lib/kernel/civil-date.ts'
import type { LedgerRefusal } from '#lib/ledger/refusals.ts'
import type { PhotoRefusal } from '#lib/platform/photos/clean-photo.ts'

/** Why an attempt or a look at one was not recorded. */
export type AttemptsRefusal =
  | LedgerRefusal
  | NotAllowed
  | { readonly kind: 'in-future'; readonly today: CivilDate }
  | { readonly kind: 'before-cut'; readonly code: string; readonly cutOn: CivilDate }
  /** The grower has no stick of this lot, and it is not theirs to take from the store. */
  | { readonly kind: 'not-received'; readonly code: string }
  | { readonly kind: 'wood-without-name' }
  | { readonly kind: 'variety-differs'; readonly variety: string }
  | { readonly kind: 'withdrawn'; readonly reason: string }
  | { readonly kind: 'became-limb'; readonly treeCode: string }
  | { readonly kind: 'before-attempt'; readonly madeOn: CivilDate }
  | { readonly kind: 'does-not-add-up'; readonly pieces: number; readonly sum: number }
  | { readonly kind: 'too-many-causes'; readonly dead: number; readonly named: number }
  | { readonly kind: 'already-corrected' }
  /** No such link was ever mailed from here. */
  | { readonly kind: 'link-unknown' }
  | { readonly kind: 'link-is-over'; readonly on: CivilDate }
  | PhotoRefusal
  | { readonly kind: 'enough-photos'; readonly most: number }
