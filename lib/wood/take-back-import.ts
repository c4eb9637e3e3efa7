import type { Actor } from '#lib/access/actor.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import { ledgerRefusalOf } from '#lib/ledger/refusals.ts'
import { writeAudit } from '#lib/people/write-audit.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { once } from '#lib/platform/database/once.ts'
import { transact } from '#lib/platform/database/transact.ts'
import type { TakeBackImportInput } from '#lib/wood/import-input.ts'
import type { ImportRefusal } from '#lib/wood/import-refusals.ts'
import { mayKeepStore } from '#lib/wood/may-tend.ts'
import { projectWindows } from '#lib/wood/project-windows.ts'

export interface TakenBackImport {
  readonly storeId: string
  readonly readings: number
}

/** Takes a logger's import back with all its readings. The import stays on the record, with who, when and why. */
export function takeBackImport(
  db: Database,
  actor: Actor,
  input: TakeBackImportInput,
): Promise<Result<TakenBackImport, ImportRefusal>> {
  const { groupId, memberId } = actor
  const { key, importId, reason } = input
  return transact<TakenBackImport, ImportRefusal>(
    db,
    (tx) =>
      once<TakenBackImport, ImportRefusal>(tx, groupId, key, 'take-back-import', input, async () => {
        const found = await tx.readingImport.findUnique({
          where: { groupId_id: { groupId, id: importId } },
          include: { store: { select: { keeperId: true } } },
        })
        if (!found) return refuse({ kind: 'not-found' })
        if (!mayKeepStore(actor, found.store.keeperId)) return refuse({ kind: 'not-your-store' })
        if (found.takenBackAt) return refuse({ kind: 'taken-back-already' })
        const { storeId, firstAt: from, lastAt: to } = found
        const [taken] = await tx.$queryRaw<{ readonly readings: number }[]>`
          select take_back_reading_import(${groupId}::uuid, ${importId}::uuid, ${memberId}::uuid, ${db.now()}::timestamptz,
            ${reason}::text) as readings`
        const readings = taken?.readings ?? 0
        await projectWindows(tx, db, groupId, { storeId, from, to })
        await writeAudit(tx, db, actor, {
          action: 'take-back-import',
          subject: `store:${storeId}`,
          detail: { import: importId, reason, readings },
        })
        return ok({ storeId, readings })
      }),
    ledgerRefusalOf,
  )
}
