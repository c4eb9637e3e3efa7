import type { Actor, Role } from '#lib/access/actor.ts'

/** What a role may do beyond its own things. Whose thing it is, the queries ask. */
const rights = {
  'invite-people': ['organiser'],
  'change-roles': ['organiser'],
  'change-settings': ['organiser'],
  'see-contacts': ['organiser', 'steward'],
  'add-people-without-account': ['organiser', 'steward', 'helper'],
  'act-for-others': ['organiser', 'steward', 'helper'],
  'edit-varieties': ['organiser', 'steward', 'helper'],
  'edit-any-tree': ['organiser', 'steward'],
  'keep-stores': ['organiser', 'steward', 'helper'],
  'run-swaps': ['organiser'],
  'offer-any-lot': ['organiser', 'steward', 'helper'],
  'override-protection': ['organiser', 'steward'],
  'hand-over': ['organiser', 'steward', 'helper'],
  'place-holds': ['organiser', 'steward'],
  'import-data': ['organiser'],
  'read-log': ['organiser', 'steward'],
} as const satisfies Record<string, readonly Role[]>

export type Right = keyof typeof rights

/** Whether the actor's role gives a right. */
export const can = (actor: Pick<Actor, 'role'>, right: Right): boolean =>
  (rights[right] as readonly Role[]).includes(actor.role)

/** The refusal of something that the actor's role does not give. */
export interface NotAllowed {
  readonly kind: 'not-allowed'
  readonly right: Right
  /** The roles that may. */
  readonly roles: readonly Role[]
}

export const notAllowed = (right: Right): NotAllowed => ({ kind: 'not-allowed', right, roles: rights[right] })

/** Acting in one's own name, or for somebody else with the right to. */
export const mayActFor = (actor: Actor, memberId: string): boolean =>
  actor.memberId === memberId || can(actor, 'act-for-others')
