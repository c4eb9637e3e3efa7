import type { Actor } from '#lib/access/actor.ts'
import { can, notAllowed } from '#lib/access/policy.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import { writeAudit } from '#lib/people/write-audit.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { transact } from '#lib/platform/database/transact.ts'
import type { RemoveSynonymInput } from '#lib/varieties/input.ts'
import type { VarietyRefusal } from '#lib/varieties/refusals.ts'

/** Takes another name away again; the log keeps that it was there. */
export async function removeSynonym(
  db: Database,
  actor: Actor,
  input: RemoveSynonymInput,
): Promise<Result<{ readonly varietyId: string }, VarietyRefusal>> {
  if (!can(actor, 'edit-varieties')) return refuse(notAllowed('edit-varieties'))
  const { groupId } = actor
  return transact<{ varietyId: string }, VarietyRefusal>(db, async (tx) => {
    const synonym = await tx.varietySynonym.findFirst({ where: { groupId, id: input.synonymId } })
    if (!synonym) return refuse({ kind: 'not-found' })
    await tx.varietySynonym.deleteMany({ where: { groupId, id: synonym.id } })
    await writeAudit(tx, db, actor, {
      action: 'remove-synonym',
      subject: `variety:${synonym.varietyId}`,
      detail: { name: synonym.name },
    })
    return ok({ varietyId: synonym.varietyId })
  })
}
