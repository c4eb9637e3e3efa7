import type { Actor } from '#lib/access/actor.ts'
import { batchRows, type RecordBatchInput } from '#lib/attempts/batch-input.ts'
import { recordOneAttempt } from '#lib/attempts/record-attempt.ts'
import type { AttemptsRefusal } from '#lib/attempts/refusals.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import { ledgerRefusalOf } from '#lib/ledger/refusals.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { once } from '#lib/platform/database/once.ts'
import { transact } from '#lib/platform/database/transact.ts'

export interface RecordedBatch {
  readonly attemptIds: readonly string[]
}

/** Why a morning's work was not recorded: a row that cannot be, or a refusal of the whole. */
export type BatchRefusal =
  | AttemptsRefusal
  | { readonly kind: 'in-row'; readonly row: number; readonly refusal: AttemptsRefusal }

/**
 * Records a morning's work: every row or none, in the order of the form, with its sticks moved. Each entry keeps its
 * place in the morning, because hands tire.
 */
export async function recordBatch(
  db: Database,
  actor: Actor,
  input: RecordBatchInput,
): Promise<Result<RecordedBatch, BatchRefusal>> {
  return transact<RecordedBatch, BatchRefusal>(
    db,
    (tx) =>
      once<RecordedBatch, BatchRefusal>(tx, actor.groupId, input.key, 'record-batch', input, async () => {
        const batchId = db.newId()
        const attemptIds: string[] = []
        for (const [i, { number, attempt }] of batchRows(input).entries()) {
          const place = { batchId, place: i + 1 }
          const recorded = await recordOneAttempt(tx, db, actor, attempt, place)
          if (!recorded.ok) return refuse({ kind: 'in-row', row: number, refusal: recorded.refusal })
          attemptIds.push(recorded.value.attemptId)
        }
        return ok({ attemptIds })
      }),
    ledgerRefusalOf,
  )
}
