import type { Actor } from '#lib/access/actor.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import { ledgerRefusalOf } from '#lib/ledger/refusals.ts'
import { writeAudit } from '#lib/people/write-audit.ts'
import type { Database, Queries } from '#lib/platform/database/database.ts'
import { once } from '#lib/platform/database/once.ts'
import { transact } from '#lib/platform/database/transact.ts'
import { type DraftedReadings, draftedReadings } from '#lib/wood/drafted-readings.ts'
import type { ImportReadingsInput } from '#lib/wood/import-input.ts'
import type { ImportRefusal } from '#lib/wood/import-refusals.ts'
import { projectWindows } from '#lib/wood/project-windows.ts'

export interface ImportedReadings {
  readonly importId: string
  readonly storeId: string
  readonly written: number
}

/** Writes an import and its readings; gives the time that they span. */
async function writeReadings(
  tx: Queries,
  db: Database,
  actor: Actor,
  { storeId, importId }: Pick<ImportedReadings, 'storeId' | 'importId'>,
  { fileName, fileHash, fresh }: DraftedReadings,
): Promise<{ readonly from: Date; readonly to: Date }> {
  const { groupId, memberId } = actor
  const celsius = fresh.map((reading) => reading.celsius)
  const instants = fresh.map((reading) => reading.at.toISOString())
  const [from, to] = [fresh[0]?.at, fresh.at(-1)?.at]
  if (!from || !to) throw new Error('An import of nothing')
  await tx.readingImport.create({
    data: {
      groupId,
      id: importId,
      storeId,
      fileName,
      fileHash,
      readingsWritten: fresh.length,
      firstAt: from,
      lastAt: to,
      lowest: celsius.reduce((low, value) => Math.min(low, value)),
      highest: celsius.reduce((high, value) => Math.max(high, value)),
      importedById: memberId,
      importedAt: db.now(),
    },
  })
  await tx.$executeRaw`
    insert into reading (group_id, store_id, at, celsius, basis, taken_by_id, import_id)
      select ${groupId}::uuid, ${storeId}::uuid, r.at, r.celsius, 'logger', ${memberId}::uuid, ${importId}::uuid
        from unnest(${instants}::timestamptz[], ${celsius}::float8[]) as r(at, celsius)`
  return { from, to }
}

/**
 * Writes the readings of a waiting file that were shown, all of them or none. A second click, and the same file again,
 * change nothing: what the store has already is not written. Refuses when the store has changed since the preview.
 */
export function importReadings(
  db: Database,
  actor: Actor,
  input: ImportReadingsInput,
): Promise<Result<ImportedReadings, ImportRefusal>> {
  const { groupId } = actor
  const { key, storeId, draftId, shown, ...answers } = input
  return transact<ImportedReadings, ImportRefusal>(
    db,
    (tx) =>
      once<ImportedReadings, ImportRefusal>(tx, groupId, key, 'import-readings', input, async () => {
        // One import of a store after the other, so that none writes what another just wrote.
        await tx.$queryRaw`select from store where group_id = ${groupId}::uuid and id = ${storeId}::uuid for no key update`
        const drafted = await draftedReadings(tx, db, actor, { storeId, draftId }, answers)
        if (!drafted.ok) return drafted
        const { fresh, already, mark, fileName, file } = drafted.value
        if (fresh.length === 0) return refuse({ kind: 'nothing-new', already })
        if (mark !== shown) return refuse({ kind: 'changed-since' })
        const importId = db.newId()
        const { from, to } = await writeReadings(tx, db, actor, { storeId, importId }, drafted.value)
        await tx.readingDraft.deleteMany({ where: { groupId, id: draftId } })
        await projectWindows(tx, db, groupId, { storeId, from, to })
        await writeAudit(tx, db, actor, {
          action: 'import-readings',
          subject: `store:${storeId}`,
          detail: { import: importId, file: fileName, rows: file.rows, written: fresh.length },
        })
        return ok({ importId, storeId, written: fresh.length })
      }),
    ledgerRefusalOf,
  )
}
