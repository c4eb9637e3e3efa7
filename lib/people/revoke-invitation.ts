import type { Actor } from '#lib/access/actor.ts'
import { can, notAllowed } from '#lib/access/policy.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import type { RevokeInvitationInput } from '#lib/people/input.ts'
import type { PeopleRefusal } from '#lib/people/refusals.ts'
import { writeAudit } from '#lib/people/write-audit.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { transact } from '#lib/platform/database/transact.ts'

/** Takes an invitation back. Doing it twice changes nothing; an accepted one is past taking back. */
export async function revokeInvitation(
  db: Database,
  actor: Actor,
  input: RevokeInvitationInput,
): Promise<Result<{ readonly invitationId: string }, PeopleRefusal>> {
  if (!can(actor, 'invite-people')) return refuse(notAllowed('invite-people'))
  const where = { groupId: actor.groupId, id: input.invitationId }
  return transact<{ invitationId: string }, PeopleRefusal>(db, async (tx) => {
    const { count } = await tx.invitation.updateMany({
      where: { ...where, acceptedAt: null, revokedAt: null },
      data: { revokedAt: db.now() },
    })
    if (count === 1) {
      await writeAudit(tx, db, actor, {
        action: 'revoke-invitation',
        subject: `invitation:${input.invitationId}`,
      })
      return ok({ invitationId: input.invitationId })
    }
    const invitation = await tx.invitation.findFirst({ where })
    if (!invitation) return refuse({ kind: 'not-found' })
    return invitation.acceptedAt
      ? refuse({ kind: 'invitation-accepted' })
      : ok({ invitationId: invitation.id })
  })
}
