import type { Actor } from '#lib/access/actor.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import { groupDay } from '#lib/people/group-day.ts'
import { writeAudit } from '#lib/people/write-audit.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { transact } from '#lib/platform/database/transact.ts'
import type { EditLimbInput } from '#lib/trees/input.ts'
import type { TreeRefusal } from '#lib/trees/refusals.ts'
import { dayObjection, limbObjection, limbRefusalOf, limbRow, treeToChange } from '#lib/trees/tree-rules.ts'
import { projectWindows } from '#lib/wood/project-windows.ts'

export interface EditedLimb {
  readonly limbId: string
  readonly code: string
}

/**
 * Changes what is written about a limb, its name included. Lots cut from it are called what the limb is called;
 * grafts that were made keep the name they were recorded under. Both names go into the log.
 */
export async function editLimb(
  db: Database,
  actor: Actor,
  input: EditLimbInput,
): Promise<Result<EditedLimb, TreeRefusal>> {
  const { groupId } = actor
  return transact<EditedLimb, TreeRefusal>(
    db,
    async (tx) => {
      const limb = await tx.limb.findFirst({
        where: { groupId, id: input.limbId },
        include: { variety: { select: { name: true } } },
      })
      if (!limb) return refuse({ kind: 'not-found' })
      const found = await treeToChange(tx, actor, limb.treeId)
      if (!found.ok) return found
      const objection =
        dayObjection([['seen in leaf', input.seenInLeafOn]], await groupDay(tx, db, actor)) ??
        (await limbObjection(tx, groupId, input))
      if (objection) return refuse(objection)
      if (limb.fromAttemptId && input.origin === 'unknown') return refuse({ kind: 'origin-is-recorded' })
      const { variety } = await tx.limb.update({
        where: { groupId_id: { groupId, id: limb.id } },
        data: limbRow(input),
        include: { variety: { select: { name: true } } },
      })
      const renamed = limb.varietyId !== (input.varietyId ?? null)
      if (renamed) await projectWindows(tx, db, groupId, { limbId: limb.id })
      await writeAudit(tx, db, actor, {
        action: renamed ? 'name-limb' : 'edit-limb',
        subject: `tree:${found.value.code}`,
        onBehalfOf: found.value.keeperId === actor.memberId ? null : found.value.keeperId,
        detail: {
          mark: limb.mark,
          ...(renamed ? { nameBefore: limb.variety?.name ?? null, name: variety?.name ?? null } : {}),
        },
      })
      return ok({ limbId: limb.id, code: found.value.code })
    },
    limbRefusalOf(input.mark),
  )
}
