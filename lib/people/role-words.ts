import type { Role } from '#lib/access/actor.ts'

export const roleWords: Readonly<Record<Role, string>> = {
  organiser: 'Organiser',
  steward: 'Health steward',
  helper: 'Helper',
  member: 'Member',
}

/** What a role may do beyond one's own things, for choosing one. */
export const roleMeanings: Readonly<Record<Role, string>> = {
  organiser: 'Runs swaps, invites people, gives roles and changes the group’s settings.',
  steward: 'Places and releases health holds, sees contact details, corrects any tree.',
  helper: 'Adds people and varieties, keeps stores, hands wood over, records for others.',
  member: 'Keeps their own trees, cuts, claims and records their own grafts.',
}

/** The roles, the most rights first. */
export const roles = ['organiser', 'steward', 'helper', 'member'] as const satisfies readonly Role[]
