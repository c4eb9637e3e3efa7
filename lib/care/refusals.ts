import type { NotAllowed } from '#lib/access/policy.ts'
import type { CivilDate } from '#lib/kernel/civil-date.ts'
import type { KeyReused } from '#lib/platform/database/once.ts'

/** Why an answer to a task of care was not recorded. */
export type CareRefusal =
  | NotAllowed
  | KeyReused
  | { readonly kind: 'not-found' }
  | { readonly kind: 'withdrawn'; readonly reason: string }
  /** Nothing of the batch is alive, so nothing is asked. */
  | { readonly kind: 'nothing-alive' }
  | { readonly kind: 'no-such-task' }
  | { readonly kind: 'until-is-past'; readonly today: CivilDate }
