import type { Role } from '#lib/access/actor.ts'
import { civilDateIn, utcMidnight } from '#lib/kernel/civil-date.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import type { AcceptInvitationInput } from '#lib/people/input.ts'
import { invitationTokenHash } from '#lib/people/invitation-token.ts'
import type { PeopleRefusal } from '#lib/people/refusals.ts'
import { writeAudit } from '#lib/people/write-audit.ts'
import type { Database, Queries } from '#lib/platform/database/database.ts'
import { transact } from '#lib/platform/database/transact.ts'
import type { Prisma } from '#lib/platform/generated/client.ts'

type Invitation = Prisma.InvitationGetPayload<{ include: { invitedBy: { include: { group: true } } } }>

/**
 * Makes the holder of a login a member of the group that invited them. The login's address must be the one that
 * the mail went to: a link that was passed on lets nobody else in. Accepting twice answers the same.
 */
export async function acceptInvitation(
  db: Database,
  login: { readonly loginId: string },
  input: AcceptInvitationInput,
): Promise<Result<{ readonly slug: string }, PeopleRefusal>> {
  return transact<{ slug: string }, PeopleRefusal>(db, async (tx) => {
    const tokenHash = invitationTokenHash(input.token)
    // Two clicks at once: the second waits here and then finds the invitation used.
    await tx.$queryRaw`select 1 from invitation where token_hash = ${tokenHash} for update`
    const invitation = await tx.invitation.findUnique({
      where: { tokenHash },
      include: { invitedBy: { include: { group: true } } },
    })
    if (!invitation) return refuse({ kind: 'invitation-unknown' })
    const { group } = invitation.invitedBy
    const membership = await tx.member.findUnique({
      where: { groupId_loginId: { groupId: group.id, loginId: login.loginId } },
    })
    if (membership && !membership.leftOn && invitation.acceptedAt) return ok({ slug: group.slug })
    const objection = objectionTo(db, invitation)
    if (objection) return refuse(objection)
    const person = await tx.login.findUnique({ where: { id: login.loginId } })
    if (!person) return refuse({ kind: 'no-account' })
    if (person.email !== invitation.email) {
      return refuse({ kind: 'other-address', invited: invitation.email, signedIn: person.email })
    }
    if (membership && invitation.memberId && membership.id !== invitation.memberId) {
      return refuse({ kind: 'known-twice' })
    }
    const member = await enter(
      tx,
      db,
      invitation,
      { id: person.id, displayName: input.displayName ?? person.displayName },
      membership,
    )
    if (!member.ok) return member
    await tx.invitation.update({
      where: { groupId_id: { groupId: group.id, id: invitation.id } },
      data: { acceptedAt: db.now() },
    })
    await writeAudit(
      tx,
      db,
      { groupId: group.id, ...member.value },
      { action: 'accept-invitation', subject: `member:${member.value.memberId}` },
    )
    return ok({ slug: group.slug })
  })
}

function objectionTo(db: Database, invitation: Invitation): PeopleRefusal | null {
  const { displayName: invitedBy, group } = invitation.invitedBy
  if (invitation.acceptedAt) return { kind: 'invitation-used' }
  if (invitation.revokedAt) return { kind: 'invitation-revoked', invitedBy }
  if (invitation.expiresAt > db.now()) return null
  return { kind: 'invitation-expired', on: civilDateIn(group.timeZone, invitation.expiresAt), invitedBy }
}

/** Writes the membership: a new one, an account for somebody known by name, or one taken up again. */
async function enter(
  tx: Queries,
  db: Database,
  invitation: Invitation,
  person: { readonly id: string; readonly displayName: string },
  earlier: { readonly id: string; readonly role: Role; readonly leftOn: Date | null } | null,
): Promise<Result<{ readonly memberId: string; readonly role: Role }, PeopleRefusal>> {
  const { groupId, role, email } = invitation
  if (earlier) {
    // Somebody who never left keeps the role they have: an invitation is no way to lower or raise it.
    const kept = earlier.leftOn ? role : earlier.role
    await tx.member.update({
      where: { groupId_id: { groupId, id: earlier.id } },
      data: { leftOn: null, role: kept },
    })
    return ok({ memberId: earlier.id, role: kept })
  }
  if (invitation.memberId) {
    const { count } = await tx.member.updateMany({
      where: { groupId, id: invitation.memberId, loginId: null, leftOn: null },
      data: { loginId: person.id, role },
    })
    return count === 1 ? ok({ memberId: invitation.memberId, role }) : refuse({ kind: 'invitation-used' })
  }
  const memberId = db.newId()
  const today = civilDateIn(invitation.invitedBy.group.timeZone, db.now())
  await tx.member.create({
    data: {
      groupId,
      id: memberId,
      loginId: person.id,
      displayName: person.displayName,
      role,
      email,
      joinedOn: utcMidnight(today),
      createdAt: db.now(),
    },
  })
  return ok({ memberId, role })
}
