import type { Actor } from '#lib/access/actor.ts'
import { civilDateOf } from '#lib/kernel/civil-date.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import { groupDay } from '#lib/people/group-day.ts'
import { writeAudit } from '#lib/people/write-audit.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { once } from '#lib/platform/database/once.ts'
import { transact } from '#lib/platform/database/transact.ts'
import type { AddLimbInput } from '#lib/trees/input.ts'
import type { TreeRefusal } from '#lib/trees/refusals.ts'
import { dayObjection, limbObjection, limbRefusalOf, limbRow, treeToChange } from '#lib/trees/tree-rules.ts'

export interface AddedLimb {
  readonly limbId: string
  readonly code: string
}

/** Adds a limb to a tree: one that was there all along, or a graft that took. */
export async function addLimb(
  db: Database,
  actor: Actor,
  input: AddLimbInput,
): Promise<Result<AddedLimb, TreeRefusal>> {
  const { groupId } = actor
  return transact<AddedLimb, TreeRefusal>(
    db,
    (tx) =>
      once<AddedLimb, TreeRefusal>(tx, groupId, input.key, 'add-limb', input, async () => {
        const found = await treeToChange(tx, actor, input.treeId)
        if (!found.ok) return found
        const tree = found.value
        if (tree.goneOn) return refuse({ kind: 'tree-gone', goneOn: civilDateOf(tree.goneOn) })
        const objection =
          dayObjection([['seen in leaf', input.seenInLeafOn]], await groupDay(tx, db, actor)) ??
          (await limbObjection(tx, groupId, input))
        if (objection) return refuse(objection)
        const limbId = db.newId()
        await tx.limb.create({
          data: {
            groupId,
            id: limbId,
            treeId: tree.id,
            ...limbRow(input),
            fromAttemptId: input.fromAttemptId ?? null,
            createdAt: db.now(),
          },
        })
        await writeAudit(tx, db, actor, {
          action: 'add-limb',
          subject: `tree:${tree.code}`,
          onBehalfOf: tree.keeperId === actor.memberId ? null : tree.keeperId,
          detail: { mark: input.mark },
        })
        return ok({ limbId, code: tree.code })
      }),
    limbRefusalOf(input.mark),
  )
}
