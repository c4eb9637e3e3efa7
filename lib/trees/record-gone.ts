import type { Actor } from '#lib/access/actor.ts'
import { civilDateOf, utcMidnight } from '#lib/kernel/civil-date.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import { groupDay } from '#lib/people/group-day.ts'
import { writeAudit } from '#lib/people/write-audit.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { transact } from '#lib/platform/database/transact.ts'
import type { RecordGoneInput } from '#lib/trees/input.ts'
import type { TreeRefusal } from '#lib/trees/refusals.ts'
import { treeToChange } from '#lib/trees/tree-rules.ts'

export interface GoneTree {
  readonly treeId: string
  readonly code: string
}

/**
 * Records that a tree, or one limb of it, is no longer there. Nothing is removed: wood that was given stays
 * traceable. With a tree go the limbs that were still there, on the same day.
 */
export async function recordGone(
  db: Database,
  actor: Actor,
  input: RecordGoneInput,
): Promise<Result<GoneTree, TreeRefusal>> {
  const { groupId } = actor
  return transact<GoneTree, TreeRefusal>(db, async (tx) => {
    const found = await treeToChange(tx, actor, input.treeId)
    if (!found.ok) return found
    const tree = found.value
    const today = await groupDay(tx, db, actor)
    if (input.goneOn > today) return refuse({ kind: 'day-ahead', what: 'gone', today })
    const plantedOn = tree.plantedOn && civilDateOf(tree.plantedOn)
    if (plantedOn && input.goneOn < plantedOn) return refuse({ kind: 'gone-before-planting', plantedOn })
    const goneOn = utcMidnight(input.goneOn)
    if (tree.goneOn) return refuse({ kind: 'is-gone', goneOn: civilDateOf(tree.goneOn) })
    const limb = input.limbId
      ? await tx.limb.findFirst({ where: { groupId, treeId: tree.id, id: input.limbId } })
      : null
    if (input.limbId && !limb) return refuse({ kind: 'not-found' })
    if (limb?.goneOn) return refuse({ kind: 'is-gone', goneOn: civilDateOf(limb.goneOn) })
    await tx.limb.updateMany({
      where: { groupId, treeId: tree.id, goneOn: null, ...(limb ? { id: limb.id } : {}) },
      data: { goneOn },
    })
    if (!limb) await tx.tree.update({ where: { groupId_id: { groupId, id: tree.id } }, data: { goneOn } })
    await writeAudit(tx, db, actor, {
      action: limb ? 'record-limb-gone' : 'record-tree-gone',
      subject: `tree:${tree.code}`,
      onBehalfOf: tree.keeperId === actor.memberId ? null : tree.keeperId,
      detail: { goneOn: input.goneOn, ...(limb ? { mark: limb.mark } : {}) },
    })
    return ok({ treeId: tree.id, code: tree.code })
  })
}
