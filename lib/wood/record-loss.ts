import type { Actor } from '#lib/access/actor.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import { moveSticks } from '#lib/ledger/move-sticks.ts'
import { ledgerRefusalOf } from '#lib/ledger/refusals.ts'
import { writeAudit } from '#lib/people/write-audit.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { once } from '#lib/platform/database/once.ts'
import { transact } from '#lib/platform/database/transact.ts'
import type { RecordLossInput } from '#lib/wood/input.ts'
import { lockLotToTend } from '#lib/wood/lot-to-tend.ts'
import { mayTendLot } from '#lib/wood/may-tend.ts'
import type { WoodRefusal } from '#lib/wood/refusals.ts'

export interface RecordedLoss {
  readonly code: string
  /** Sticks that are still free in the store. */
  readonly left: number
}

/**
 * Writes off sticks that are free in the store: destroyed on purpose, or lost, which is also what a count that
 * turned out too high is called. Promised sticks are not touched: their claims are given back first.
 */
export function recordLoss(
  db: Database,
  actor: Actor,
  input: RecordLossInput,
): Promise<Result<RecordedLoss, WoodRefusal>> {
  const { groupId } = actor
  return transact<RecordedLoss, WoodRefusal>(
    db,
    (tx) =>
      once<RecordedLoss, WoodRefusal>(tx, groupId, input.key, 'record-loss', input, async () => {
        const lot = await lockLotToTend(tx, groupId, input.lotId)
        if (!lot) return refuse({ kind: 'not-found' })
        if (!mayTendLot(actor, lot)) return refuse({ kind: 'not-your-wood' })
        const left = await moveSticks(tx, {
          groupId,
          id: db.newId(),
          lotId: lot.lotId,
          kind: input.fate === 'destroyed' ? 'destroy' : 'lose',
          from: 'store',
          to: input.fate,
          sticks: input.sticks,
          happenedAt: db.now(),
          recordedBy: actor.memberId,
          reason: input.reason,
        })
        await writeAudit(tx, db, actor, {
          action: 'record-loss',
          subject: `lot:${lot.code}`,
          detail: { sticks: input.sticks, fate: input.fate, reason: input.reason },
        })
        return ok({ code: lot.code, left })
      }),
    ledgerRefusalOf,
  )
}
