import type { Actor } from '#lib/access/actor.ts'
import { can, notAllowed } from '#lib/access/policy.ts'
import { utcMidnight } from '#lib/kernel/civil-date.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import { writeAudit } from '#lib/people/write-audit.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { once } from '#lib/platform/database/once.ts'
import { transact } from '#lib/platform/database/transact.ts'
import { claimInstants, noShowInstant } from '#lib/swaps/claim-times.ts'
import type { CreateSwapInput } from '#lib/swaps/input.ts'
import type { SwapsRefusal } from '#lib/swaps/refusals.ts'

/** Plans a swap. Nobody can claim before it is opened. */
export async function createSwap(
  db: Database,
  actor: Actor,
  input: CreateSwapInput,
): Promise<Result<{ readonly swapId: string }, SwapsRefusal>> {
  if (!can(actor, 'run-swaps')) return refuse(notAllowed('run-swaps'))
  return transact<{ readonly swapId: string }, SwapsRefusal>(db, (tx) =>
    once(tx, actor.groupId, input.key, 'create-swap', input, async () => {
      const group = await tx.orchardGroup.findUniqueOrThrow({ where: { id: actor.groupId } })
      const swapId = db.newId()
      await tx.swap.create({
        data: {
          groupId: actor.groupId,
          id: swapId,
          name: input.name,
          heldOn: utcMidnight(input.heldOn),
          place: input.place,
          ...claimInstants(group.timeZone, input),
          capPerMember: input.capPerMember,
          capPerVariety: input.capPerVariety,
          waitingHours: input.waitingHours ?? 24,
          noShowAt: noShowInstant(group.timeZone, input),
          note: input.note ?? null,
          createdById: actor.memberId,
        },
      })
      await writeAudit(tx, db, actor, { action: 'create-swap', subject: `swap:${swapId}` })
      return ok({ swapId })
    }),
  )
}
