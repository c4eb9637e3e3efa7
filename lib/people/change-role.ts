import type { Actor } from '#lib/access/actor.ts'
import { can, notAllowed } from '#lib/access/policy.ts'
import { civilDateOf } from '#lib/kernel/civil-date.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import type { ChangeRoleInput } from '#lib/people/input.ts'
import { isLastOrganiser, lockOrganisers } from '#lib/people/lock-organisers.ts'
import type { PeopleRefusal } from '#lib/people/refusals.ts'
import { writeAudit } from '#lib/people/write-audit.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { transact } from '#lib/platform/database/transact.ts'

/** Gives a person another role. The last organiser keeps theirs. */
export async function changeRole(
  db: Database,
  actor: Actor,
  input: ChangeRoleInput,
): Promise<Result<{ readonly memberId: string }, PeopleRefusal>> {
  if (!can(actor, 'change-roles')) return refuse(notAllowed('change-roles'))
  return transact<{ memberId: string }, PeopleRefusal>(db, async (tx) => {
    const organisers = await lockOrganisers(tx, actor.groupId)
    const member = await tx.member.findFirst({ where: { groupId: actor.groupId, id: input.memberId } })
    if (!member) return refuse({ kind: 'not-found' })
    if (member.leftOn) {
      return refuse({ kind: 'has-left', name: member.displayName, leftOn: civilDateOf(member.leftOn) })
    }
    if (member.role === input.role) return ok({ memberId: member.id })
    if (isLastOrganiser(organisers, member.id)) return refuse({ kind: 'last-organiser' })
    await tx.member.update({
      where: { groupId_id: { groupId: actor.groupId, id: member.id } },
      data: { role: input.role },
    })
    await writeAudit(tx, db, actor, {
      action: 'change-role',
      subject: `member:${member.id}`,
      detail: { from: member.role, to: input.role },
    })
    return ok({ memberId: member.id })
  })
}
