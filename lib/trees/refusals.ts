import type { NotAllowed } from '#lib/access/policy.ts'
import type { CivilDate } from '#lib/kernel/civil-date.ts'
import type { LedgerRefusal } from '#lib/ledger/refusals.ts'

export type TreeRefusal =
  | NotAllowed
  | LedgerRefusal
  /** Somebody else looks after the tree. */
  | { readonly kind: 'not-your-tree'; readonly keeper: string }
  | { readonly kind: 'unknown-keeper' }
  | { readonly kind: 'unknown-variety' }
  | { readonly kind: 'mark-taken'; readonly mark: string }
  | { readonly kind: 'day-ahead'; readonly what: string; readonly today: CivilDate }
  | { readonly kind: 'tree-gone'; readonly goneOn: CivilDate }
  | { readonly kind: 'is-gone'; readonly goneOn: CivilDate }
  | { readonly kind: 'still-here' }
  | { readonly kind: 'gone-before-planting'; readonly plantedOn: CivilDate }
  /** The recorded graft is not there, or was withdrawn. */
  | { readonly kind: 'unknown-attempt' }
  | { readonly kind: 'other-variety'; readonly variety: string }
  | { readonly kind: 'origin-is-recorded' }
