import type { Actor } from '#lib/access/actor.ts'
import { can, notAllowed } from '#lib/access/policy.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import type { RecordReturnInput } from '#lib/people/input.ts'
import type { PeopleRefusal } from '#lib/people/refusals.ts'
import { writeAudit } from '#lib/people/write-audit.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { transact } from '#lib/platform/database/transact.ts'

/** Takes a departure back: the person is a member again, with the role they had. */
export async function recordReturn(
  db: Database,
  actor: Actor,
  input: RecordReturnInput,
): Promise<Result<{ readonly memberId: string }, PeopleRefusal>> {
  if (!can(actor, 'change-roles')) return refuse(notAllowed('change-roles'))
  return transact<{ memberId: string }, PeopleRefusal>(db, async (tx) => {
    const member = await tx.member.findFirst({ where: { groupId: actor.groupId, id: input.memberId } })
    if (!member) return refuse({ kind: 'not-found' })
    if (!member.leftOn) return refuse({ kind: 'is-here', name: member.displayName })
    await tx.member.update({
      where: { groupId_id: { groupId: actor.groupId, id: member.id } },
      data: { leftOn: null },
    })
    await writeAudit(tx, db, actor, { action: 'record-return', subject: `member:${member.id}` })
    return ok({ memberId: member.id })
  })
}
