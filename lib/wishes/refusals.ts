import type { NotAllowed } from '#lib/access/policy.ts'
import type { KeyReused } from '#lib/platform/database/once.ts'

/** Why something about wishes was refused. */
export type WishesRefusal =
  | NotAllowed
  | KeyReused
  | { readonly kind: 'not-found' }
  | { readonly kind: 'swap-finished' }
  | { readonly kind: 'wished-already'; readonly rank: number }
  | { readonly kind: 'too-many-wishes'; readonly most: number }
