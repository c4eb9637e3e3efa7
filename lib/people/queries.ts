import type { Actor } from '#lib/access/actor.ts'
import { can } from '#lib/access/policy.ts'
import { cultivarSearchKey } from '#lib/grafting/cultivar-name.ts'
import { civilDateIn, civilDateOf } from '#lib/kernel/civil-date.ts'
import { isUuid } from '#lib/kernel/id.ts'
import { invitationTokenHash } from '#lib/people/invitation-token.ts'
import type {
  Contact,
  GroupOfLogin,
  InvitationRow,
  InvitationState,
  InvitationView,
  MemberChoice,
  MemberRow,
  MemberView,
  Standing,
} from '#lib/people/view.ts'
import type { Database } from '#lib/platform/database/database.ts'

const mayRead = (actor: Actor, memberId: string) => memberId === actor.memberId || can(actor, 'see-contacts')

const contactFor = (
  actor: Actor,
  member: { readonly id: string; readonly phone: string | null; readonly email: string | null },
): Contact | null => (mayRead(actor, member.id) ? { phone: member.phone, email: member.email } : null)

const dayOrNull = (column: Date | null) => (column ? civilDateOf(column) : null)

/** Everybody the group knows, by name; those who left come with the day. */
export async function listMembers(
  db: Database,
  actor: Actor,
  options: { readonly search?: string } = {},
): Promise<MemberRow[]> {
  const wanted = cultivarSearchKey(options.search ?? '')
  const members = await db.prisma.member.findMany({
    where: { groupId: actor.groupId },
    include: { _count: { select: { trees: { where: { goneOn: null } } } } },
    orderBy: [{ displayName: 'asc' }, { id: 'asc' }],
  })
  // A group's people are few enough to compare here, where an accent more or less does not matter.
  const found = members.filter((member) => cultivarSearchKey(member.displayName).includes(wanted))
  return found.map((member) => ({
    id: member.id,
    name: member.displayName,
    role: member.role,
    hasAccount: member.loginId !== null,
    joinedOn: civilDateOf(member.joinedOn),
    leftOn: dayOrNull(member.leftOn),
    trees: member._count.trees,
    contact: contactFor(actor, member),
  }))
}

/** The people that a form can name: members who have not left. */
export async function memberChoices(db: Database, actor: Actor): Promise<MemberChoice[]> {
  const members = await db.prisma.member.findMany({
    where: { groupId: actor.groupId, leftOn: null },
    select: { id: true, displayName: true, loginId: true },
    orderBy: [{ displayName: 'asc' }, { id: 'asc' }],
  })
  return members.map(({ id, displayName, loginId }) => ({
    id,
    name: displayName,
    hasAccount: loginId !== null,
  }))
}

/** One person, with what the asker may see of them; null when the group knows nobody by that id. */
export async function getMember(db: Database, actor: Actor, id: string): Promise<MemberView | null> {
  if (!isUuid(id)) return null
  const { groupId } = actor
  const member = await db.prisma.member.findFirst({
    where: { groupId, id },
    include: {
      group: { select: { timeZone: true } },
      trees: {
        where: { goneOn: null },
        include: { limbs: { where: { goneOn: null }, include: { variety: true }, orderBy: { mark: 'asc' } } },
        orderBy: { createdAt: 'asc' },
      },
      invitedAs: {
        where: { acceptedAt: null, revokedAt: null, expiresAt: { gt: db.now() } },
        orderBy: { createdAt: 'desc' },
        take: 1,
      },
    },
  })
  if (!member) return null
  const open = can(actor, 'invite-people') ? member.invitedAs[0] : undefined
  return {
    id: member.id,
    name: member.displayName,
    role: member.role,
    hasAccount: member.loginId !== null,
    joinedOn: civilDateOf(member.joinedOn),
    leftOn: dayOrNull(member.leftOn),
    contact: contactFor(actor, member),
    note: mayRead(actor, id) ? member.note : null,
    isSelf: id === actor.memberId,
    trees: member.trees.map((tree) => ({
      code: tree.code,
      place: tree.place,
      varieties: tree.limbs.flatMap((limb) => limb.variety?.name ?? []),
      unnamed: tree.limbs.filter((limb) => !limb.variety).length,
    })),
    standing: mayRead(actor, id) ? await standingOf(db, groupId, id) : null,
    openInvitation: open
      ? { email: open.email, expiresOn: civilDateIn(member.group.timeZone, open.expiresAt) }
      : null,
    mayEdit: mayRead(actor, id),
    mayChangeRole: can(actor, 'change-roles'),
    mayInvite: can(actor, 'invite-people') && member.loginId === null && member.leftOn === null,
  }
}

async function standingOf(db: Database, groupId: string, memberId: string): Promise<Standing> {
  const [claims, held, stores] = await Promise.all([
    db.prisma.claim.count({ where: { groupId, memberId, status: 'promised' } }),
    db.prisma.holding.aggregate({ where: { groupId, memberId }, _sum: { sticks: true } }),
    db.prisma.store.count({ where: { groupId, keeperId: memberId, closedOn: null } }),
  ])
  return { claims, sticksHeld: held._sum.sticks ?? 0, stores }
}

/** The groups that a login opens. */
export async function groupsOfLogin(db: Database, loginId: string): Promise<GroupOfLogin[]> {
  const memberships = await db.prisma.member.findMany({
    where: { loginId, leftOn: null },
    select: { role: true, group: { select: { slug: true, name: true } } },
    orderBy: { group: { name: 'asc' } },
  })
  return memberships.map(({ role, group }) => ({ slug: group.slug, name: group.name, role }))
}

/** What an invitation's link leads to; null when there is none with that token. */
export async function getInvitation(db: Database, token: string): Promise<InvitationView | null> {
  const invitation = await db.prisma.invitation.findUnique({
    where: { tokenHash: invitationTokenHash(token) },
    include: { invitedBy: { include: { group: true } }, member: { select: { displayName: true } } },
  })
  if (!invitation) return null
  const { group } = invitation.invitedBy
  return {
    state: stateOf(invitation, db.now()),
    groupName: group.name,
    slug: group.slug,
    invitedBy: invitation.invitedBy.displayName,
    email: invitation.email,
    role: invitation.role,
    memberName: invitation.member?.displayName ?? null,
    expiresOn: civilDateIn(group.timeZone, invitation.expiresAt),
  }
}

function stateOf(
  invitation: { readonly acceptedAt: Date | null; readonly revokedAt: Date | null; readonly expiresAt: Date },
  now: Date,
): InvitationState {
  if (invitation.acceptedAt) return 'used'
  if (invitation.revokedAt) return 'revoked'
  return invitation.expiresAt > now ? 'open' : 'expired'
}

/** Invitations that nobody has accepted, the newest first; empty for those who may not invite. */
export async function listInvitations(db: Database, actor: Actor): Promise<InvitationRow[]> {
  if (!can(actor, 'invite-people')) return []
  const invitations = await db.prisma.invitation.findMany({
    where: { groupId: actor.groupId, acceptedAt: null, revokedAt: null },
    include: { invitedBy: { include: { group: true } }, member: { select: { displayName: true } } },
    orderBy: { createdAt: 'desc' },
  })
  return invitations.map((invitation) => {
    const { timeZone } = invitation.invitedBy.group
    return {
      id: invitation.id,
      email: invitation.email,
      role: invitation.role,
      memberName: invitation.member?.displayName ?? null,
      invitedBy: invitation.invitedBy.displayName,
      sentOn: civilDateIn(timeZone, invitation.createdAt),
      expiresOn: civilDateIn(timeZone, invitation.expiresAt),
      state: invitation.expiresAt > db.now() ? 'open' : 'expired',
    }
  })
}
