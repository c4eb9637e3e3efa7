import type { Actor } from '#lib/access/actor.ts'
import { can, notAllowed } from '#lib/access/policy.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import type { EditMemberInput } from '#lib/people/input.ts'
import type { PeopleRefusal } from '#lib/people/refusals.ts'
import { writeAudit } from '#lib/people/write-audit.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { transact } from '#lib/platform/database/transact.ts'

/** Changes a person's name, contact details and note. One's own, or anybody's with the right to see contacts. */
export async function editMember(
  db: Database,
  actor: Actor,
  input: EditMemberInput,
): Promise<Result<{ readonly memberId: string }, PeopleRefusal>> {
  if (actor.memberId !== input.memberId && !can(actor, 'see-contacts'))
    return refuse(notAllowed('see-contacts'))
  return transact<{ memberId: string }, PeopleRefusal>(db, async (tx) => {
    const { count } = await tx.member.updateMany({
      where: { groupId: actor.groupId, id: input.memberId },
      data: {
        displayName: input.displayName,
        phone: input.phone ?? null,
        email: input.email ?? null,
        note: input.note ?? null,
      },
    })
    if (count === 0) return refuse({ kind: 'not-found' })
    await writeAudit(tx, db, actor, { action: 'edit-member', subject: `member:${input.memberId}` })
    return ok({ memberId: input.memberId })
  })
}
