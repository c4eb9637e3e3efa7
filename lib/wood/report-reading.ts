import type { Actor } from '#lib/access/actor.ts'
import { type CivilDate, instantIn } from '#lib/kernel/civil-date.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import { ledgerRefusalOf } from '#lib/ledger/refusals.ts'
import { groupClock } from '#lib/people/group-day.ts'
import { writeAudit } from '#lib/people/write-audit.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { databaseErrorOf } from '#lib/platform/database/errors.ts'
import { once } from '#lib/platform/database/once.ts'
import { transact } from '#lib/platform/database/transact.ts'
import type { ReportReadingInput } from '#lib/wood/input.ts'
import { mayKeepStore } from '#lib/wood/may-tend.ts'
import { projectWindows } from '#lib/wood/project-windows.ts'
import type { WoodRefusal } from '#lib/wood/refusals.ts'

/** The instant of a reading: the time that was given, or now if it was today, or noon. */
function instantOf(timeZone: string, today: CivilDate, input: ReportReadingInput, now: Date): Date {
  if (!input.atTime) return input.onDay === today ? now : instantIn(timeZone, input.onDay, 12)
  return instantIn(timeZone, input.onDay, Number(input.atTime.slice(0, 2)), Number(input.atTime.slice(3)))
}

const refusalOf = (error: unknown): WoodRefusal | null =>
  databaseErrorOf(error)?.constraint === 'reading_pkey' ? { kind: 'read-already' } : ledgerRefusalOf(error)

/** Records what a thermometer in a store showed. The windows of the wood that was there then follow it. */
export function reportReading(
  db: Database,
  actor: Actor,
  input: ReportReadingInput,
): Promise<Result<{ storeId: string }, WoodRefusal>> {
  const { groupId } = actor
  const { storeId } = input
  return transact<{ storeId: string }, WoodRefusal>(
    db,
    (tx) =>
      once<{ storeId: string }, WoodRefusal>(tx, groupId, input.key, 'report-reading', input, async () => {
        const store = await tx.store.findUnique({
          where: { groupId_id: { groupId, id: storeId } },
          select: { keeperId: true },
        })
        if (!store) return refuse({ kind: 'not-found' })
        if (!mayKeepStore(actor, store.keeperId)) return refuse({ kind: 'not-your-store' })
        const { timeZone, today } = await groupClock(tx, db, groupId)
        const at = instantOf(timeZone, today, input, db.now())
        if (at > db.now()) return refuse({ kind: 'day-to-come', today })
        await tx.reading.create({
          data: {
            groupId,
            storeId,
            at,
            celsius: input.celsius,
            basis: input.basis,
            takenById: actor.memberId,
          },
        })
        await projectWindows(tx, db, groupId, { storeId, from: at, to: at })
        await writeAudit(tx, db, actor, {
          action: 'report-reading',
          subject: `store:${storeId}`,
          detail: { celsius: input.celsius, at: at.toISOString() },
        })
        return ok({ storeId })
      }),
    refusalOf,
  )
}
