import type { NotAllowed } from '#lib/access/policy.ts'
import type { CivilDate } from '#lib/kernel/civil-date.ts'
import type { LedgerRefusal } from '#lib/ledger/refusals.ts'
import type { KeyReused } from '#lib/platform/database/once.ts'
import type { PledgeState } from '#lib/pledges/view.ts'

/** Why something about promised wood was refused. */
export type PledgesRefusal =
  | NotAllowed
  | KeyReused
  | Extract<LedgerRefusal, { readonly kind: 'held' }>
  | { readonly kind: 'not-found' }
  | { readonly kind: 'swap-finished' }
  | { readonly kind: 'limb-gone' }
  | { readonly kind: 'asked-already'; readonly sticks: number; readonly keeper: string }
  | { readonly kind: 'bring-by-after-the-swap'; readonly heldOn: CivilDate }
  | { readonly kind: 'keeper-has-left'; readonly keeper: string }
  | { readonly kind: 'not-yours'; readonly keeper: string }
  | { readonly kind: 'settled'; readonly status: PledgeState }
  | { readonly kind: 'not-promised' }
