import type { Actor } from '#lib/access/actor.ts'
import { notAllowed } from '#lib/access/policy.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import { writeAudit } from '#lib/people/write-audit.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { once } from '#lib/platform/database/once.ts'
import { transact } from '#lib/platform/database/transact.ts'
import type { AddStoreInput } from '#lib/wood/input.ts'
import { mayKeepStore } from '#lib/wood/may-tend.ts'
import { isPresentMember } from '#lib/wood/present-member.ts'
import type { WoodRefusal } from '#lib/wood/refusals.ts'
import { storeRefusalOf } from '#lib/wood/store-refusal-of.ts'

/**
 * Adds a place where wood is kept. Helpers add any; a member adds their own, and is its keeper unless somebody
 * with the right says otherwise. Refuses a name that the group has already.
 */
export function addStore(
  db: Database,
  actor: Actor,
  input: AddStoreInput,
): Promise<Result<{ storeId: string }, WoodRefusal>> {
  return transact<{ storeId: string }, WoodRefusal>(
    db,
    (tx) =>
      once<{ storeId: string }, WoodRefusal>(tx, actor.groupId, input.key, 'add-store', input, async () => {
        const keeperId = input.keeperId ?? (mayKeepStore(actor, null) ? null : actor.memberId)
        if (!mayKeepStore(actor, keeperId)) return refuse(notAllowed('keep-stores'))
        if (keeperId && !(await isPresentMember(tx, actor.groupId, keeperId)))
          return refuse({ kind: 'no-such-member' })
        const storeId = db.newId()
        await tx.store.create({
          data: {
            groupId: actor.groupId,
            id: storeId,
            name: input.name,
            kind: input.kind,
            keeperId,
            typedCelsius: input.typedCelsius ?? null,
            createdAt: db.now(),
          },
        })
        await writeAudit(tx, db, actor, {
          action: 'add-store',
          subject: `store:${storeId}`,
          detail: { name: input.name },
        })
        return ok({ storeId })
      }),
    storeRefusalOf(input.name),
  )
}
