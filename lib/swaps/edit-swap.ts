import type { Actor } from '#lib/access/actor.ts'
import { can, notAllowed } from '#lib/access/policy.ts'
import { utcMidnight } from '#lib/kernel/civil-date.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import { serveWaiting } from '#lib/ledger/waiting-statements.ts'
import { writeAudit } from '#lib/people/write-audit.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { transact } from '#lib/platform/database/transact.ts'
import { claimInstants, noShowInstant } from '#lib/swaps/claim-times.ts'
import type { EditSwapInput } from '#lib/swaps/input.ts'
import type { SwapsRefusal } from '#lib/swaps/refusals.ts'

/** Changes day, place, times, limits or note of a swap. Claims that were made under other limits stand. */
export async function editSwap(
  db: Database,
  actor: Actor,
  input: EditSwapInput,
): Promise<Result<{ readonly swapId: string }, SwapsRefusal>> {
  if (!can(actor, 'run-swaps')) return refuse(notAllowed('run-swaps'))
  return transact<{ readonly swapId: string }, SwapsRefusal>(db, async (tx) => {
    const where = { groupId: actor.groupId, id: input.swapId }
    const group = await tx.orchardGroup.findUniqueOrThrow({ where: { id: actor.groupId } })
    const before = await tx.swap.findFirst({ where, select: { noShowAt: true } })
    const noShowAt = noShowInstant(group.timeZone, input)
    const { count } = await tx.swap.updateMany({
      where: { ...where, status: { not: 'finished' } },
      data: {
        name: input.name,
        heldOn: utcMidnight(input.heldOn),
        place: input.place,
        ...claimInstants(group.timeZone, input),
        capPerMember: input.capPerMember,
        capPerVariety: input.capPerVariety,
        ...(input.waitingHours === undefined ? {} : { waitingHours: input.waitingHours }),
        noShowAt,
        // Another time counts anew.
        ...(before?.noShowAt?.getTime() === noShowAt?.getTime() ? {} : { noShowsReleasedAt: null }),
        note: input.note ?? null,
      },
    })
    if (count === 0) {
      const isThere = (await tx.swap.count({ where })) > 0
      return refuse({ kind: isThere ? 'swap-finished' : 'not-found' })
    }
    // Other limits may let somebody in who was passed over.
    await serveWaiting(tx, { groupId: actor.groupId, swapId: input.swapId, now: db.now() })
    await writeAudit(tx, db, actor, {
      action: 'edit-swap',
      subject: `swap:${input.swapId}`,
      detail: { capPerMember: input.capPerMember, capPerVariety: input.capPerVariety },
    })
    return ok({ swapId: input.swapId })
  })
}
