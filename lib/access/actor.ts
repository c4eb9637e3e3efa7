export type Role = 'organiser' | 'steward' | 'helper' | 'member'

/**
 * Who is acting, in which group. Made only by `lib/access/context.ts` from a session, by the seed and by tests,
 * so that a command without an actor is a type error.
 */
export interface Actor {
  readonly groupId: string
  readonly memberId: string
  readonly role: Role
}
