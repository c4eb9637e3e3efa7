import type { Actor } from '#lib/access/actor.ts'
import { utcMidnight } from '#lib/kernel/civil-date.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import { groupClock } from '#lib/people/group-day.ts'
import { writeAudit } from '#lib/people/write-audit.ts'
import type { Database, Queries } from '#lib/platform/database/database.ts'
import { transact } from '#lib/platform/database/transact.ts'
import type { EditStoreInput } from '#lib/wood/input.ts'
import { mayKeepStore } from '#lib/wood/may-tend.ts'
import { isPresentMember } from '#lib/wood/present-member.ts'
import { projectWindows } from '#lib/wood/project-windows.ts'
import type { WoodRefusal } from '#lib/wood/refusals.ts'
import { storeRefusalOf } from '#lib/wood/store-refusal-of.ts'

/** Lots that are in a store now and still have sticks there. */
const lotsIn = (tx: Queries, groupId: string, storeId: string) =>
  tx.lot.count({
    where: {
      groupId,
      stints: { some: { storeId, endedAt: null } },
      holdings: { some: { account: { in: ['store', 'promised'] }, sticks: { gt: 0 } } },
    },
  })

/**
 * Changes a store, or closes it. Only its keeper and those who keep the group's stores may, and a store that still
 * holds wood is not closed. What was noted as its temperature counts for every stay that has no reading of its own.
 */
export function editStore(
  db: Database,
  actor: Actor,
  input: EditStoreInput,
): Promise<Result<{ storeId: string }, WoodRefusal>> {
  const { groupId } = actor
  const { storeId } = input
  return transact<{ storeId: string }, WoodRefusal>(
    db,
    async (tx) => {
      const store = await tx.store.findUnique({ where: { groupId_id: { groupId, id: storeId } } })
      if (!store) return refuse({ kind: 'not-found' })
      const keeperId = input.keeperId ?? null
      if (!mayKeepStore(actor, store.keeperId) || !mayKeepStore(actor, keeperId))
        return refuse({ kind: 'not-your-store' })
      if (keeperId && keeperId !== store.keeperId && !(await isPresentMember(tx, groupId, keeperId))) {
        return refuse({ kind: 'no-such-member' })
      }
      const lots = input.closed ? await lotsIn(tx, groupId, storeId) : 0
      if (lots > 0) return refuse({ kind: 'store-holds-wood', lots })
      const { today } = await groupClock(tx, db, groupId)
      await tx.store.update({
        where: { groupId_id: { groupId, id: storeId } },
        data: {
          name: input.name,
          kind: input.kind,
          keeperId,
          typedCelsius: input.typedCelsius ?? null,
          closedOn: input.closed ? (store.closedOn ?? utcMidnight(today)) : null,
        },
      })
      const typedBefore = store.typedCelsius?.toNumber() ?? null
      if (store.kind !== input.kind || typedBefore !== (input.typedCelsius ?? null)) {
        await projectWindows(tx, db, groupId, { storeId })
      }
      await writeAudit(tx, db, actor, {
        action: 'edit-store',
        subject: `store:${storeId}`,
        detail: {
          before: {
            name: store.name,
            kind: store.kind,
            typedCelsius: typedBefore,
          },
          after: { name: input.name, kind: input.kind, typedCelsius: input.typedCelsius ?? null },
          closed: input.closed,
        },
      })
      return ok({ storeId })
    },
    storeRefusalOf(input.name),
  )
}
