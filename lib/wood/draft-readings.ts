import type { Actor } from '#lib/access/actor.ts'
import { hashKey } from '#lib/formats/csv/row-keys.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import { ledgerRefusalOf } from '#lib/ledger/refusals.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { once } from '#lib/platform/database/once.ts'
import { transact } from '#lib/platform/database/transact.ts'
import type { DraftReadingsInput } from '#lib/wood/import-input.ts'
import type { ImportRefusal } from '#lib/wood/import-refusals.ts'
import { mayKeepStore } from '#lib/wood/may-tend.ts'

export interface Drafted {
  readonly storeId: string
  readonly draftId: string
}

/** A file waits so long for its import. */
export const draftLivesMs = 24 * 3_600_000

/**
 * Keeps a logger's file for its preview, as it is and whatever is in it: what cannot be read in it is asked or named
 * there, and nothing has to be brought twice. Files that have waited a day are thrown away.
 */
export function draftReadings(
  db: Database,
  actor: Actor,
  input: DraftReadingsInput,
): Promise<Result<Drafted, ImportRefusal>> {
  const { groupId, memberId } = actor
  const { key, storeId, fileName, bytes } = input
  const said = { storeId, fileName, file: hashKey([bytes]) }
  return transact<Drafted, ImportRefusal>(
    db,
    (tx) =>
      once<Drafted, ImportRefusal>(tx, groupId, key, 'draft-readings', said, async () => {
        const store = await tx.store.findUnique({
          where: { groupId_id: { groupId, id: storeId } },
          select: { keeperId: true },
        })
        if (!store) return refuse({ kind: 'not-found' })
        if (!mayKeepStore(actor, store.keeperId)) return refuse({ kind: 'not-your-store' })
        const draftedAt = db.now()
        const tooOld = new Date(draftedAt.getTime() - draftLivesMs)
        await tx.readingDraft.deleteMany({ where: { groupId, draftedAt: { lt: tooOld } } })
        const draftId = db.newId()
        await tx.readingDraft.create({
          data: {
            groupId,
            id: draftId,
            storeId,
            draftedById: memberId,
            fileName,
            content: new Uint8Array(bytes),
            draftedAt,
          },
        })
        return ok({ storeId, draftId })
      }),
    ledgerRefusalOf,
  )
}
