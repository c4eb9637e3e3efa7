import { databaseErrorOf, ledgerStates } from '#lib/platform/database/errors.ts'

/** Why the ledger said no. Each carries what a person needs to do the next thing. */
export type LedgerRefusal =
  | { readonly kind: 'not-enough-sticks'; readonly left: number; readonly account: string }
  | { readonly kind: 'not-enough-shares'; readonly left: number }
  | { readonly kind: 'cap-per-member'; readonly cap: number; readonly held: number }
  | { readonly kind: 'cap-per-variety'; readonly cap: number; readonly held: number }
  | {
      readonly kind: 'claims-not-open'
      readonly opensAt: string
      readonly closesAt: string
      readonly status: string
    }
  | { readonly kind: 'held'; readonly reason: string; readonly placedAt: string }
  | { readonly kind: 'protected'; readonly variety: string; readonly protection: string }
  | { readonly kind: 'not-shared-here'; readonly genus: string }
  | { readonly kind: 'unnamed-wood' }
  | { readonly kind: 'key-reused' }
  | { readonly kind: 'already-claimed' }
  | { readonly kind: 'wrong-state' }
  | { readonly kind: 'not-found' }
  | { readonly kind: 'circular-lineage' }
  | { readonly kind: 'no-shows-not-due'; readonly at: string | null }
  | { readonly kind: 'place-is-gone'; readonly status: string }
  | { readonly kind: 'already-waiting' }
  | { readonly kind: 'shares-are-free'; readonly left: number }
  | { readonly kind: 'already-reversed' }

/** The refusal that an error of the database stands for; null when it is a defect or an outage. */
export function ledgerRefusalOf(error: unknown): LedgerRefusal | null {
  const refused = databaseErrorOf(error)
  if (!refused) return null
  const number = (key: string) => Number(refused.detail[key])
  const text = (key: string) => String(refused.detail[key] ?? '')
  switch (refused.sqlstate) {
    case ledgerStates.notEnoughSticks:
      return { kind: 'not-enough-sticks', left: number('left'), account: text('account') }
    case ledgerStates.notEnoughShares:
      return { kind: 'not-enough-shares', left: number('left') }
    case ledgerStates.capPerMember:
      return { kind: 'cap-per-member', cap: number('cap'), held: number('held') }
    case ledgerStates.capPerVariety:
      return { kind: 'cap-per-variety', cap: number('cap'), held: number('held') }
    case ledgerStates.claimsNotOpen:
      return {
        kind: 'claims-not-open',
        opensAt: text('opensAt'),
        closesAt: text('closesAt'),
        status: text('status'),
      }
    case ledgerStates.held:
      return { kind: 'held', reason: text('reason'), placedAt: text('placedAt') }
    case ledgerStates.protectedVariety:
      return { kind: 'protected', variety: text('variety'), protection: text('protection') }
    case ledgerStates.notSharedHere:
      return { kind: 'not-shared-here', genus: text('genus') }
    case ledgerStates.unnamedWood:
      return { kind: 'unnamed-wood' }
    case ledgerStates.keyReused:
      return { kind: 'key-reused' }
    case ledgerStates.alreadyClaimed:
      return { kind: 'already-claimed' }
    case ledgerStates.wrongState:
      return { kind: 'wrong-state' }
    case ledgerStates.notFound:
      return { kind: 'not-found' }
    case ledgerStates.circularLineage:
      return { kind: 'circular-lineage' }
    case ledgerStates.notYetNoShow:
      return { kind: 'no-shows-not-due', at: text('at') || null }
    case ledgerStates.placeIsGone:
      return { kind: 'place-is-gone', status: text('status') }
    case ledgerStates.alreadyWaiting:
      return { kind: 'already-waiting' }
    case ledgerStates.sharesAreFree:
      return { kind: 'shares-are-free', left: number('left') }
    case '23505':
      if (refused.constraint === 'idempotency_key_pkey') return { kind: 'key-reused' }
      if (refused.constraint === 'waiting_once_per_member_and_offering') return { kind: 'already-waiting' }
      if (refused.constraint?.startsWith('move_group_id_reverses_id_')) return { kind: 'already-reversed' }
      return refused.constraint === 'claim_stands_once_per_member_and_offering'
        ? { kind: 'already-claimed' }
        : null
    default:
      return null
  }
}
