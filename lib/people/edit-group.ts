import type { Actor } from '#lib/access/actor.ts'
import { can, notAllowed } from '#lib/access/policy.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import type { EditGroupInput } from '#lib/people/input.ts'
import type { PeopleRefusal } from '#lib/people/refusals.ts'
import { writeAudit } from '#lib/people/write-audit.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { transact } from '#lib/platform/database/transact.ts'
import { projectWindows } from '#lib/wood/project-windows.ts'

/** Changes the group's own settings: its name, region, clock, and whether grape wood may be offered. */
export async function editGroup(
  db: Database,
  actor: Actor,
  input: EditGroupInput,
): Promise<Result<{ readonly groupId: string }, PeopleRefusal>> {
  if (!can(actor, 'change-settings')) return refuse(notAllowed('change-settings'))
  return transact<{ groupId: string }, PeopleRefusal>(db, async (tx) => {
    const { allowsVitis: before, timeZone } = await tx.orchardGroup.findUniqueOrThrow({
      where: { id: actor.groupId },
    })
    await tx.orchardGroup.update({
      where: { id: actor.groupId },
      data: {
        name: input.name,
        region: input.region ?? null,
        timeZone: input.timeZone,
        allowsVitis: input.allowsVitis,
      },
    })
    // Days are turned into instants at noon of the group's clock.
    if (timeZone !== input.timeZone) await projectWindows(tx, db, actor.groupId, { wholeGroup: true })
    await writeAudit(tx, db, actor, {
      action: 'edit-group',
      subject: `group:${actor.groupId}`,
      detail: { allowsVitisBefore: before, allowsVitis: input.allowsVitis },
    })
    return ok({ groupId: actor.groupId })
  })
}
