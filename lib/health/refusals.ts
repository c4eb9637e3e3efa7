import type { NotAllowed } from '#lib/access/policy.ts'
import type { LedgerRefusal } from '#lib/ledger/refusals.ts'

/** Why a hold was not placed or released. */
export type HealthRefusal =
  | LedgerRefusal
  | NotAllowed
  | { readonly kind: 'held-already'; readonly reason: string }
  | { readonly kind: 'released-already'; readonly releasedBy: string }
