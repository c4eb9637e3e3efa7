import type { NotAllowed } from '#lib/access/policy.ts'
import type { CivilDate } from '#lib/kernel/civil-date.ts'
import type { KeyReused } from '#lib/platform/database/once.ts'

export type VarietyRefusal =
  | NotAllowed
  | KeyReused
  | { readonly kind: 'not-found' }
  | { readonly kind: 'unknown-taxon' }
  | { readonly kind: 'name-taken'; readonly name: string }
  | { readonly kind: 'synonym-there'; readonly name: string }
  | { readonly kind: 'checked-ahead'; readonly today: CivilDate }
  /** Taking a known protection away is for those who may override it. */
  | { readonly kind: 'protection-stays'; readonly roles: readonly string[] }
