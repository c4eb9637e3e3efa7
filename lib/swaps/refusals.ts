import type { NotAllowed } from '#lib/access/policy.ts'
import type { LedgerRefusal } from '#lib/ledger/refusals.ts'
import type { KeyReused } from '#lib/platform/database/once.ts'

/** A lot that may not be offered, and why. */
export interface LotRefusal {
  readonly code: string
  readonly varietyName: string | null
  readonly refusal: LedgerRefusal | { readonly kind: 'already-offered' }
}

/** Why a command of a swap was refused. */
export type SwapsRefusal =
  | LedgerRefusal
  | NotAllowed
  | KeyReused
  | { readonly kind: 'swap-finished' }
  | { readonly kind: 'swap-already-open' }
  | { readonly kind: 'claims-standing'; readonly claims: number; readonly sticks: number }
  | { readonly kind: 'fewer-than-claimed'; readonly claimed: number }
  | { readonly kind: 'lots-unfit'; readonly lots: readonly LotRefusal[] }
  | { readonly kind: 'override-not-yours' }
