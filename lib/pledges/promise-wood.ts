import type { Actor } from '#lib/access/actor.ts'
import { mayActFor } from '#lib/access/policy.ts'
import { utcMidnight } from '#lib/kernel/civil-date.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import { writeAudit } from '#lib/people/write-audit.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { once } from '#lib/platform/database/once.ts'
import { transact } from '#lib/platform/database/transact.ts'
import { askedLimb } from '#lib/pledges/giving-limb.ts'
import type { AskForWoodInput } from '#lib/pledges/input.ts'
import { pledgeClash } from '#lib/pledges/pledge-clash.ts'
import type { PledgesRefusal } from '#lib/pledges/refusals.ts'

/** Promises wood of one's own limb that nobody asked for, or writes the promise down for its keeper. */
export function promiseWood(
  db: Database,
  actor: Actor,
  input: AskForWoodInput,
): Promise<Result<{ readonly pledgeId: string; readonly swapId: string }, PledgesRefusal>> {
  const { groupId } = actor
  type Promised = { readonly pledgeId: string; readonly swapId: string }
  return transact<Promised, PledgesRefusal>(
    db,
    (tx) =>
      once<Promised, PledgesRefusal>(tx, groupId, input.key, 'promise-wood', input, async () => {
        const limb = await askedLimb(tx, groupId, input)
        if (!limb.ok) return limb
        const { keeper } = limb.value
        if (!mayActFor(actor, keeper.id)) return refuse({ kind: 'not-yours', keeper: keeper.displayName })
        const pledgeId = db.newId()
        await tx.pledge.create({
          data: {
            groupId,
            id: pledgeId,
            swapId: input.swapId,
            limbId: input.limbId,
            keeperId: keeper.id,
            status: 'promised',
            sticksPromised: input.sticks,
            bringBy: utcMidnight(input.bringBy),
            answeredAt: db.now(),
            note: input.note ?? null,
          },
        })
        await writeAudit(tx, db, actor, {
          action: 'promise-wood',
          subject: `pledge:${pledgeId}`,
          onBehalfOf: keeper.id === actor.memberId ? null : keeper.id,
          detail: { swapId: input.swapId, limbId: input.limbId, sticks: input.sticks },
        })
        return ok({ pledgeId, swapId: input.swapId })
      }),
    pledgeClash,
  )
}
