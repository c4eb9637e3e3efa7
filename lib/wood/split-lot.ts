import type { Actor } from '#lib/access/actor.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import { splitSticks } from '#lib/ledger/move-sticks.ts'
import { ledgerRefusalOf } from '#lib/ledger/refusals.ts'
import { writeAudit } from '#lib/people/write-audit.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { once } from '#lib/platform/database/once.ts'
import { transact } from '#lib/platform/database/transact.ts'
import { issueCode } from '#lib/trees/issue-code.ts'
import type { SplitLotInput } from '#lib/wood/input.ts'
import { lockLotToTend } from '#lib/wood/lot-to-tend.ts'
import { mayTendLot } from '#lib/wood/may-tend.ts'
import { projectWindows } from '#lib/wood/project-windows.ts'
import type { WoodRefusal } from '#lib/wood/refusals.ts'

export interface SplitLot {
  readonly lotId: string
  /** The code of the new lot. */
  readonly code: string
  readonly fromCode: string
  /** Sticks that stay free in the old lot. */
  readonly left: number
}

/**
 * Puts free sticks of a lot into another store as a lot of their own, with a code of its own: the same limb, session
 * and cut day, and the stays until now, so that its window goes on from where it was. Both lots together count what
 * was cut. Nothing is split off a lot on hold.
 */
export function splitLot(
  db: Database,
  actor: Actor,
  input: SplitLotInput,
): Promise<Result<SplitLot, WoodRefusal>> {
  const { groupId } = actor
  return transact<SplitLot, WoodRefusal>(
    db,
    (tx) =>
      once<SplitLot, WoodRefusal>(tx, groupId, input.key, 'split-lot', input, async () => {
        const lot = await lockLotToTend(tx, groupId, input.lotId)
        if (!lot) return refuse({ kind: 'not-found' })
        if (!mayTendLot(actor, lot)) return refuse({ kind: 'not-your-wood' })
        const store = await tx.store.findUnique({ where: { groupId_id: { groupId, id: input.storeId } } })
        if (!store) return refuse({ kind: 'not-found' })
        if (store.closedOn) return refuse({ kind: 'store-closed', store: store.name })
        if (lot.stay?.storeId === store.id) return refuse({ kind: 'already-there', store: store.name })
        const code = await issueCode(tx, db, groupId, 'lot')
        const lotId = db.newId()
        const left = await splitSticks(tx, {
          groupId,
          lotId: lot.lotId,
          newLotId: lotId,
          code,
          storeId: store.id,
          stintId: db.newId(),
          sticks: input.sticks,
          at: db.now(),
          recordedBy: actor.memberId,
          moveId: db.newId(),
          newMoveId: db.newId(),
          reason: input.reason ?? null,
        })
        await projectWindows(tx, db, groupId, { lotIds: [lotId] })
        await writeAudit(tx, db, actor, {
          action: 'split-lot',
          subject: `lot:${lot.code}`,
          detail: { code, sticks: input.sticks, to: store.id },
        })
        return ok({ lotId, code, fromCode: lot.code, left })
      }),
    ledgerRefusalOf,
  )
}
