import type { Actor } from '#lib/access/actor.ts'
import { can, notAllowed } from '#lib/access/policy.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import { writeAudit } from '#lib/people/write-audit.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { transact } from '#lib/platform/database/transact.ts'
import type { EditVarietyInput } from '#lib/varieties/input.ts'
import { isClaimed } from '#lib/varieties/protection.ts'
import type { VarietyRefusal } from '#lib/varieties/refusals.ts'
import { varietyRefusalOf } from '#lib/varieties/variety-errors.ts'
import { entryObjection, varietyRow } from '#lib/varieties/variety-row.ts'
import { projectWindows } from '#lib/wood/project-windows.ts'

/**
 * Changes what is written about a variety. Anybody who may edit varieties may note a patent or a right; taking one
 * away frees wood to be offered, so that is for those who may override protection.
 */
export async function editVariety(
  db: Database,
  actor: Actor,
  input: EditVarietyInput,
): Promise<Result<{ readonly varietyId: string }, VarietyRefusal>> {
  if (!can(actor, 'edit-varieties')) return refuse(notAllowed('edit-varieties'))
  const { groupId } = actor
  return transact<{ varietyId: string }, VarietyRefusal>(
    db,
    async (tx) => {
      const objection = await entryObjection(tx, db, actor, input)
      if (objection) return refuse(objection)
      const before = await tx.variety.findFirst({ where: { groupId, id: input.varietyId } })
      if (!before) return refuse({ kind: 'not-found' })
      const lifted = isClaimed(before.protection) && !isClaimed(input.protection)
      if (lifted && !can(actor, 'override-protection')) {
        return refuse({ kind: 'protection-stays', roles: notAllowed('override-protection').roles })
      }
      await tx.variety.update({
        where: { groupId_id: { groupId, id: before.id } },
        data: varietyRow(input),
      })
      if (before.taxonKey !== input.taxonKey) {
        await projectWindows(tx, db, groupId, { varietyId: before.id })
      }
      await writeAudit(tx, db, actor, {
        action: 'edit-variety',
        subject: `variety:${before.id}`,
        detail: {
          ...(before.name === input.name ? {} : { nameBefore: before.name, name: input.name }),
          ...(before.protection === input.protection
            ? {}
            : { protectionBefore: before.protection, protection: input.protection }),
        },
      })
      return ok({ varietyId: before.id })
    },
    varietyRefusalOf(input.name),
  )
}
