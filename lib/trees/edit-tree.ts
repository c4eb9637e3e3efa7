import type { Actor } from '#lib/access/actor.ts'
import { utcMidnight } from '#lib/kernel/civil-date.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import { groupDay } from '#lib/people/group-day.ts'
import { writeAudit } from '#lib/people/write-audit.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { transact } from '#lib/platform/database/transact.ts'
import type { EditTreeInput } from '#lib/trees/input.ts'
import type { TreeRefusal } from '#lib/trees/refusals.ts'
import { dayObjection, keeperObjection, treeToChange } from '#lib/trees/tree-rules.ts'

/** Changes what is written about a tree. Its code stays; who looks after it may change. */
export async function editTree(
  db: Database,
  actor: Actor,
  input: EditTreeInput,
): Promise<Result<{ readonly treeId: string; readonly code: string }, TreeRefusal>> {
  const { groupId } = actor
  return transact<{ treeId: string; code: string }, TreeRefusal>(db, async (tx) => {
    const found = await treeToChange(tx, actor, input.treeId)
    if (!found.ok) return found
    const tree = found.value
    // A tree may stay with somebody who left; it is only not given to one.
    const handedOn = input.keeperId !== tree.keeperId
    const objection =
      (handedOn ? await keeperObjection(tx, groupId, input.keeperId) : null) ??
      dayObjection([['planted', input.plantedOn]], await groupDay(tx, db, actor))
    if (objection) return refuse(objection)
    await tx.tree.update({
      where: { groupId_id: { groupId, id: tree.id } },
      data: {
        keeperId: input.keeperId,
        rootstock: input.rootstock ?? null,
        place: input.place ?? null,
        plantedOn: input.plantedOn ? utcMidnight(input.plantedOn) : null,
        note: input.note ?? null,
      },
    })
    await writeAudit(tx, db, actor, {
      action: 'edit-tree',
      subject: `tree:${tree.code}`,
      onBehalfOf: tree.keeperId === actor.memberId ? null : tree.keeperId,
      detail: handedOn ? { keeperBefore: tree.keeperId, keeper: input.keeperId } : {},
    })
    return ok({ treeId: tree.id, code: tree.code })
  })
}
