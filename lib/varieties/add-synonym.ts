import type { Actor } from '#lib/access/actor.ts'
import { can, notAllowed } from '#lib/access/policy.ts'
import { cultivarSearchKey } from '#lib/grafting/cultivar-name.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import { writeAudit } from '#lib/people/write-audit.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { transact } from '#lib/platform/database/transact.ts'
import type { AddSynonymInput } from '#lib/varieties/input.ts'
import type { VarietyRefusal } from '#lib/varieties/refusals.ts'
import { varietyRefusalOf } from '#lib/varieties/variety-errors.ts'

/** Adds another name under which a search finds the variety. */
export async function addSynonym(
  db: Database,
  actor: Actor,
  input: AddSynonymInput,
): Promise<Result<{ readonly synonymId: string; readonly varietyId: string }, VarietyRefusal>> {
  if (!can(actor, 'edit-varieties')) return refuse(notAllowed('edit-varieties'))
  const { groupId } = actor
  const nameKey = cultivarSearchKey(input.name)
  return transact<{ synonymId: string; varietyId: string }, VarietyRefusal>(
    db,
    async (tx) => {
      const variety = await tx.variety.findFirst({ where: { groupId, id: input.varietyId } })
      if (!variety) return refuse({ kind: 'not-found' })
      if (variety.nameKey === nameKey) return refuse({ kind: 'synonym-there', name: input.name })
      const synonymId = db.newId()
      await tx.varietySynonym.create({
        data: { groupId, id: synonymId, varietyId: variety.id, name: input.name, nameKey, kind: input.kind },
      })
      await writeAudit(tx, db, actor, {
        action: 'add-synonym',
        subject: `variety:${variety.id}`,
        detail: { name: input.name },
      })
      return ok({ synonymId, varietyId: variety.id })
    },
    varietyRefusalOf(input.name),
  )
}
