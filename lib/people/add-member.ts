import type { Actor } from '#lib/access/actor.ts'
import { can, notAllowed } from '#lib/access/policy.ts'
import { utcMidnight } from '#lib/kernel/civil-date.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import { groupDay } from '#lib/people/group-day.ts'
import type { AddMemberInput } from '#lib/people/input.ts'
import type { PeopleRefusal } from '#lib/people/refusals.ts'
import { writeAudit } from '#lib/people/write-audit.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { once } from '#lib/platform/database/once.ts'
import { transact } from '#lib/platform/database/transact.ts'

/**
 * Adds somebody by name, without an account: wood can be recorded for them, and an invitation can give them
 * an account later. Any other role than member takes the right to change roles.
 */
export async function addMember(
  db: Database,
  actor: Actor,
  input: AddMemberInput,
): Promise<Result<{ readonly memberId: string }, PeopleRefusal>> {
  if (!can(actor, 'add-people-without-account')) return refuse(notAllowed('add-people-without-account'))
  if (input.role !== 'member' && !can(actor, 'change-roles')) return refuse(notAllowed('change-roles'))
  return transact<{ memberId: string }, PeopleRefusal>(db, (tx) =>
    once(tx, actor.groupId, input.key, 'add-member', input, async () => {
      const memberId = db.newId()
      await tx.member.create({
        data: {
          groupId: actor.groupId,
          id: memberId,
          displayName: input.displayName,
          role: input.role,
          phone: input.phone ?? null,
          email: input.email ?? null,
          note: input.note ?? null,
          joinedOn: utcMidnight(await groupDay(tx, db, actor)),
          createdAt: db.now(),
        },
      })
      await writeAudit(tx, db, actor, {
        action: 'add-member',
        subject: `member:${memberId}`,
        detail: { role: input.role },
      })
      return ok({ memberId })
    }),
  )
}
