import type { Actor } from '#lib/access/actor.ts'
import { civilDateOf } from '#lib/kernel/civil-date.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import { writeAudit } from '#lib/people/write-audit.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { transact } from '#lib/platform/database/transact.ts'
import type { RecordStillHereInput } from '#lib/trees/input.ts'
import type { GoneTree } from '#lib/trees/record-gone.ts'
import type { TreeRefusal } from '#lib/trees/refusals.ts'
import { treeToChange } from '#lib/trees/tree-rules.ts'

/**
 * Takes back that a tree or a limb is gone. With a tree come back the limbs that went on the same day; those that
 * went before stay gone.
 */
export async function recordStillHere(
  db: Database,
  actor: Actor,
  input: RecordStillHereInput,
): Promise<Result<GoneTree, TreeRefusal>> {
  const { groupId } = actor
  return transact<GoneTree, TreeRefusal>(db, async (tx) => {
    const found = await treeToChange(tx, actor, input.treeId)
    if (!found.ok) return found
    const tree = found.value
    const limb = input.limbId
      ? await tx.limb.findFirst({ where: { groupId, treeId: tree.id, id: input.limbId } })
      : null
    if (input.limbId && !limb) return refuse({ kind: 'not-found' })
    if (limb && tree.goneOn) return refuse({ kind: 'tree-gone', goneOn: civilDateOf(tree.goneOn) })
    const goneOn = limb ? limb.goneOn : tree.goneOn
    if (!goneOn) return refuse({ kind: 'still-here' })
    await tx.limb.updateMany({
      where: { groupId, treeId: tree.id, goneOn, ...(limb ? { id: limb.id } : {}) },
      data: { goneOn: null },
    })
    if (!limb)
      await tx.tree.update({ where: { groupId_id: { groupId, id: tree.id } }, data: { goneOn: null } })
    await writeAudit(tx, db, actor, {
      action: limb ? 'record-limb-still-here' : 'record-tree-still-here',
      subject: `tree:${tree.code}`,
      onBehalfOf: tree.keeperId === actor.memberId ? null : tree.keeperId,
      detail: limb ? { mark: limb.mark } : {},
    })
    return ok({ treeId: tree.id, code: tree.code })
  })
}
