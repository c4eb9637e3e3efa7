import type { Actor } from '#lib/access/actor.ts'
import { can, notAllowed } from '#lib/access/policy.ts'
import { civilDateOf, utcMidnight } from '#lib/kernel/civil-date.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import { groupDay } from '#lib/people/group-day.ts'
import type { RecordDepartureInput } from '#lib/people/input.ts'
import { isLastOrganiser, lockOrganisers } from '#lib/people/lock-organisers.ts'
import type { PeopleRefusal } from '#lib/people/refusals.ts'
import { writeAudit } from '#lib/people/write-audit.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { transact } from '#lib/platform/database/transact.ts'

/**
 * Records that a person left the group, themselves or by an organiser. Their entries stay, because wood is traced
 * through them; their account no longer opens the group.
 */
export async function recordDeparture(
  db: Database,
  actor: Actor,
  input: RecordDepartureInput,
): Promise<Result<{ readonly memberId: string }, PeopleRefusal>> {
  if (actor.memberId !== input.memberId && !can(actor, 'change-roles'))
    return refuse(notAllowed('change-roles'))
  return transact<{ memberId: string }, PeopleRefusal>(db, async (tx) => {
    const organisers = await lockOrganisers(tx, actor.groupId)
    const today = await groupDay(tx, db, actor)
    if (input.leftOn > today) return refuse({ kind: 'day-ahead', today })
    const member = await tx.member.findFirst({ where: { groupId: actor.groupId, id: input.memberId } })
    if (!member) return refuse({ kind: 'not-found' })
    if (member.leftOn) {
      return refuse({ kind: 'has-left', name: member.displayName, leftOn: civilDateOf(member.leftOn) })
    }
    const joinedOn = civilDateOf(member.joinedOn)
    if (input.leftOn < joinedOn) return refuse({ kind: 'left-before-joining', joinedOn })
    if (isLastOrganiser(organisers, member.id)) return refuse({ kind: 'last-organiser' })
    await tx.member.update({
      where: { groupId_id: { groupId: actor.groupId, id: member.id } },
      data: { leftOn: utcMidnight(input.leftOn) },
    })
    await tx.invitation.updateMany({
      where: { groupId: actor.groupId, memberId: member.id, acceptedAt: null, revokedAt: null },
      data: { revokedAt: db.now() },
    })
    await writeAudit(tx, db, actor, {
      action: 'record-departure',
      subject: `member:${member.id}`,
      detail: { leftOn: input.leftOn },
    })
    return ok({ memberId: member.id })
  })
}
