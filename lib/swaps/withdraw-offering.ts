import type { Actor } from '#lib/access/actor.ts'
import { can, notAllowed } from '#lib/access/policy.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import { serveWaiting } from '#lib/ledger/waiting-statements.ts'
import { writeAudit } from '#lib/people/write-audit.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { transact } from '#lib/platform/database/transact.ts'
import type { WithdrawOfferingInput } from '#lib/swaps/input.ts'
import { lockSwapOfOffering } from '#lib/swaps/lock-swap.ts'
import type { SwapsRefusal } from '#lib/swaps/refusals.ts'

/** Takes a lot out of a swap. Refused while sticks of it are promised to somebody; its waiting list is closed. */
export async function withdrawOffering(
  db: Database,
  actor: Actor,
  input: WithdrawOfferingInput,
): Promise<Result<{ readonly offeringId: string }, SwapsRefusal>> {
  if (!can(actor, 'offer-any-lot')) return refuse(notAllowed('offer-any-lot'))
  return transact<{ readonly offeringId: string }, SwapsRefusal>(db, async (tx) => {
    const { groupId } = actor
    await lockSwapOfOffering(tx, groupId, input.offeringId)
    // Written before the claims are counted: a claim made at the same moment waits for this row, or is counted.
    const { count } = await tx.offering.updateMany({
      where: { groupId, id: input.offeringId, withdrawnAt: null },
      data: { withdrawnAt: db.now() },
    })
    if (count === 0) return refuse({ kind: 'not-found' })
    const standing = await tx.claim.aggregate({
      where: { groupId, offeringId: input.offeringId, status: 'promised' },
      _count: true,
      _sum: { sticks: true },
    })
    if (standing._count > 0) {
      return refuse({ kind: 'claims-standing', claims: standing._count, sticks: standing._sum.sticks ?? 0 })
    }
    const offering = await tx.offering.findUniqueOrThrow({
      where: { groupId_id: { groupId, id: input.offeringId } },
      select: { swapId: true, lot: { select: { code: true } } },
    })
    await serveWaiting(tx, {
      groupId,
      swapId: offering.swapId,
      offeringId: input.offeringId,
      now: db.now(),
    })
    await writeAudit(tx, db, actor, {
      action: 'withdraw-offering',
      subject: `lot:${offering.lot.code}`,
      detail: { swapId: offering.swapId },
    })
    return ok({ offeringId: input.offeringId })
  })
}
