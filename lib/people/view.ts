import type { Role } from '#lib/access/actor.ts'
import type { CivilDate } from '#lib/kernel/civil-date.ts'

/** Telephone and e-mail; null for those who may not see them. */
export interface Contact {
  readonly phone: string | null
  readonly email: string | null
}

export interface MemberRow {
  readonly id: string
  readonly name: string
  readonly role: Role
  readonly hasAccount: boolean
  readonly joinedOn: CivilDate
  readonly leftOn: CivilDate | null
  /** Trees that are still there and that this person looks after. */
  readonly trees: number
  readonly contact: Contact | null
}

export interface MemberChoice {
  readonly id: string
  readonly name: string
  readonly hasAccount: boolean
}

/** What still stands in a person's name. */
export interface Standing {
  readonly claims: number
  readonly sticksHeld: number
  readonly stores: number
}

export interface MemberView extends Omit<MemberRow, 'trees'> {
  readonly isSelf: boolean
  /** Null for those who may not see it: only the person, organisers and stewards may. */
  readonly note: string | null
  readonly trees: readonly {
    readonly code: string
    readonly place: string | null
    readonly varieties: readonly string[]
    readonly unnamed: number
  }[]
  /** Null for those who may not see it. */
  readonly standing: Standing | null
  readonly openInvitation: { readonly email: string; readonly expiresOn: CivilDate } | null
  readonly mayEdit: boolean
  readonly mayChangeRole: boolean
  readonly mayInvite: boolean
}

export interface GroupOfLogin {
  readonly slug: string
  readonly name: string
  readonly role: Role
}

export type InvitationState = 'open' | 'expired' | 'used' | 'revoked'

export interface InvitationView {
  readonly state: InvitationState
  readonly groupName: string
  readonly slug: string
  readonly invitedBy: string
  readonly email: string
  readonly role: Role
  /** The name under which the group knows the person already. */
  readonly memberName: string | null
  readonly expiresOn: CivilDate
}

export interface InvitationRow {
  readonly id: string
  readonly email: string
  readonly role: Role
  readonly memberName: string | null
  readonly invitedBy: string
  readonly sentOn: CivilDate
  readonly expiresOn: CivilDate
  readonly state: 'open' | 'expired'
}

export interface LogEntry {
  readonly id: string
  readonly at: Date
  readonly who: string
  readonly onBehalfOf: string | null
  readonly action: string
  readonly subject: string
  /** What the subject is called, where it is a person, a lot or a tree. */
  readonly subjectName: string | null
  /** What changed, in a few words; empty when the action says it all. */
  readonly detail: string
}
