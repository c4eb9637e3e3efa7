import type { Actor } from '#lib/access/actor.ts'
import { can, notAllowed } from '#lib/access/policy.ts'
import { cultivarSearchKey } from '#lib/grafting/cultivar-name.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import { writeAudit } from '#lib/people/write-audit.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { once } from '#lib/platform/database/once.ts'
import { transact } from '#lib/platform/database/transact.ts'
import type { AddVarietyInput } from '#lib/varieties/input.ts'
import type { VarietyRefusal } from '#lib/varieties/refusals.ts'
import { varietyRefusalOf } from '#lib/varieties/variety-errors.ts'
import { entryObjection, varietyRow } from '#lib/varieties/variety-row.ts'

/** Adds a variety to the group's list. The same name twice for one kind of fruit is refused, however it is spelt. */
export async function addVariety(
  db: Database,
  actor: Actor,
  input: AddVarietyInput,
): Promise<Result<{ readonly varietyId: string }, VarietyRefusal>> {
  if (!can(actor, 'edit-varieties')) return refuse(notAllowed('edit-varieties'))
  const { groupId } = actor
  return transact<{ varietyId: string }, VarietyRefusal>(
    db,
    (tx) =>
      once(tx, groupId, input.key, 'add-variety', input, async () => {
        const objection = await entryObjection(tx, db, actor, input)
        if (objection) return refuse(objection)
        const varietyId = db.newId()
        await tx.variety.create({
          data: { groupId, id: varietyId, ...varietyRow(input), createdAt: db.now() },
        })
        await tx.varietySynonym.createMany({ data: otherNames(db, groupId, varietyId, input) })
        await writeAudit(tx, db, actor, {
          action: 'add-variety',
          subject: `variety:${varietyId}`,
          detail: { name: input.name, protection: input.protection },
        })
        return ok({ varietyId })
      }),
    varietyRefusalOf(input.name),
  )
}

/** The other names, each once, and none that is the variety's own. */
function otherNames(db: Database, groupId: string, varietyId: string, input: AddVarietyInput) {
  const seen = new Set([cultivarSearchKey(input.name)])
  return input.synonyms.flatMap(({ name, kind }) => {
    const nameKey = cultivarSearchKey(name)
    if (seen.has(nameKey)) return []
    seen.add(nameKey)
    return [{ groupId, id: db.newId(), varietyId, name, nameKey, kind }]
  })
}
