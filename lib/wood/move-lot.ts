import type { Actor } from '#lib/access/actor.ts'
import { civilDateIn } from '#lib/kernel/civil-date.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import { ledgerRefusalOf } from '#lib/ledger/refusals.ts'
import { groupClock } from '#lib/people/group-day.ts'
import { writeAudit } from '#lib/people/write-audit.ts'
import type { Database, Queries } from '#lib/platform/database/database.ts'
import { once } from '#lib/platform/database/once.ts'
import { transact } from '#lib/platform/database/transact.ts'
import { dayClock } from '#lib/wood/day-clock.ts'
import type { MoveLotInput } from '#lib/wood/input.ts'
import { type LotToTend, lockLotToTend } from '#lib/wood/lot-to-tend.ts'
import { mayTendLot } from '#lib/wood/may-tend.ts'
import { projectWindows } from '#lib/wood/project-windows.ts'
import type { WoodRefusal } from '#lib/wood/refusals.ts'

/** Writes the stay down. A lot that moves twice in a day was only in the later place that day. */
async function writeStay(
  tx: Queries,
  db: Database,
  groupId: string,
  lot: LotToTend,
  to: { readonly storeId: string; readonly at: Date },
): Promise<void> {
  const { stay } = lot
  if (stay && stay.beganAt >= to.at) {
    await tx.stint.update({
      where: { groupId_id: { groupId, id: stay.id } },
      data: { storeId: to.storeId },
    })
    return
  }
  if (stay) {
    await tx.stint.update({
      where: { groupId_id: { groupId, id: stay.id } },
      data: { endedAt: to.at },
    })
  }
  await tx.stint.create({
    data: { groupId, id: db.newId(), lotId: lot.lotId, storeId: to.storeId, beganAt: to.at },
  })
}

/**
 * Records that a lot went to another store, at noon of the day. Its stays never overlap and have no hole between
 * them. Refuses a day to come, a day before it came where it is, the store it is in, and one that is closed.
 */
export function moveLot(
  db: Database,
  actor: Actor,
  input: MoveLotInput,
): Promise<Result<{ lotId: string; code: string }, WoodRefusal>> {
  const { groupId } = actor
  return transact<{ lotId: string; code: string }, WoodRefusal>(
    db,
    (tx) =>
      once<{ lotId: string; code: string }, WoodRefusal>(
        tx,
        groupId,
        input.key,
        'move-lot',
        input,
        async () => {
          const lot = await lockLotToTend(tx, groupId, input.lotId)
          if (!lot) return refuse({ kind: 'not-found' })
          if (!mayTendLot(actor, lot)) return refuse({ kind: 'not-your-wood' })
          const store = await tx.store.findUnique({ where: { groupId_id: { groupId, id: input.storeId } } })
          if (!store) return refuse({ kind: 'not-found' })
          if (store.closedOn) return refuse({ kind: 'store-closed', store: store.name })
          if (lot.stay?.storeId === store.id) return refuse({ kind: 'already-there', store: store.name })
          const { timeZone, today } = await groupClock(tx, db, groupId)
          if (input.onDay > today) return refuse({ kind: 'day-to-come', today })
          const cameOn = lot.stay ? civilDateIn(timeZone, lot.stay.beganAt) : lot.cutOn
          if (input.onDay < cameOn) return refuse({ kind: 'before-it-came', cameOn })
          const at = dayClock(timeZone).noon(input.onDay)
          await writeStay(tx, db, groupId, lot, { storeId: store.id, at })
          await projectWindows(tx, db, groupId, { lotIds: [lot.lotId] })
          await writeAudit(tx, db, actor, {
            action: 'move-lot',
            subject: `lot:${lot.code}`,
            detail: { from: lot.stay?.storeId ?? null, to: store.id, onDay: input.onDay },
          })
          return ok({ lotId: lot.lotId, code: lot.code })
        },
      ),
    ledgerRefusalOf,
  )
}
