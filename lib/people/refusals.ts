import type { NotAllowed } from '#lib/access/policy.ts'
import type { CivilDate } from '#lib/kernel/civil-date.ts'
import type { KeyReused } from '#lib/platform/database/once.ts'

/** Why an invitation cannot be accepted. */
export type InvitationRefusal =
  | { readonly kind: 'invitation-unknown' }
  | { readonly kind: 'invitation-expired'; readonly on: CivilDate; readonly invitedBy: string }
  | { readonly kind: 'invitation-used' }
  | { readonly kind: 'invitation-revoked'; readonly invitedBy: string }
  | { readonly kind: 'other-address'; readonly invited: string; readonly signedIn: string }
  | { readonly kind: 'known-twice' }

export type PeopleRefusal =
  | NotAllowed
  | KeyReused
  | InvitationRefusal
  | { readonly kind: 'not-found' }
  | { readonly kind: 'last-organiser' }
  | { readonly kind: 'day-ahead'; readonly today: CivilDate }
  | { readonly kind: 'left-before-joining'; readonly joinedOn: CivilDate }
  | { readonly kind: 'has-left'; readonly name: string; readonly leftOn: CivilDate }
  | { readonly kind: 'is-here'; readonly name: string }
  | { readonly kind: 'already-member'; readonly name: string }
  | { readonly kind: 'has-account'; readonly name: string }
  | { readonly kind: 'invitation-accepted' }
  | { readonly kind: 'no-account' }
