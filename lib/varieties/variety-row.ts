import type { Actor } from '#lib/access/actor.ts'
import { cultivarSearchKey } from '#lib/grafting/cultivar-name.ts'
import { utcMidnight } from '#lib/kernel/civil-date.ts'
import { groupDay } from '#lib/people/group-day.ts'
import type { Database, Queries } from '#lib/platform/database/database.ts'
import type { AddVarietyInput } from '#lib/varieties/input.ts'
import type { VarietyRefusal } from '#lib/varieties/refusals.ts'

type Fields = Omit<AddVarietyInput, 'key' | 'synonyms'>

/** The columns of a variety as they are written, with the name folded for searching. */
export const varietyRow = (input: Fields) => ({
  taxonKey: input.taxonKey,
  name: input.name,
  nameKey: cultivarSearchKey(input.name),
  nameCertainty: input.nameCertainty,
  note: input.note ?? null,
  protection: input.protection,
  protectionNote: input.protectionNote ?? null,
  protectionCheckedOn: input.protectionCheckedOn ? utcMidnight(input.protectionCheckedOn) : null,
  introducedYear: input.introducedYear ?? null,
})

/** What speaks against an entry whatever is there already; null when nothing does. */
export async function entryObjection(
  tx: Queries,
  db: Database,
  actor: Actor,
  input: Fields,
): Promise<VarietyRefusal | null> {
  const taxon = await tx.taxon.findUnique({ where: { key: input.taxonKey }, select: { key: true } })
  if (!taxon) return { kind: 'unknown-taxon' }
  if (!input.protectionCheckedOn) return null
  const today = await groupDay(tx, db, actor)
  return input.protectionCheckedOn > today ? { kind: 'checked-ahead', today } : null
}
