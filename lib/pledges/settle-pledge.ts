import type { Actor } from '#lib/access/actor.ts'
import { can, notAllowed } from '#lib/access/policy.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import { writeAudit } from '#lib/people/write-audit.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { transact } from '#lib/platform/database/transact.ts'
import type { SettlePledgeInput } from '#lib/pledges/input.ts'
import type { PledgesRefusal } from '#lib/pledges/refusals.ts'

/**
 * Notes what came of a promise: delivered, fewer sticks than promised, nothing. `withdrawn` takes back a request
 * or a promise that is no longer needed. Another outcome may be noted over it, as a correction.
 */
export function settlePledge(
  db: Database,
  actor: Actor,
  { pledgeId, outcome }: SettlePledgeInput,
): Promise<Result<{ readonly pledgeId: string; readonly swapId: string }, PledgesRefusal>> {
  const { groupId } = actor
  return transact<{ readonly pledgeId: string; readonly swapId: string }, PledgesRefusal>(db, async (tx) => {
    if (!can(actor, 'offer-any-lot')) return refuse(notAllowed('offer-any-lot'))
    const where = { groupId_id: { groupId, id: pledgeId } }
    const pledge = await tx.pledge.findUnique({ where })
    if (!pledge) return refuse({ kind: 'not-found' })
    if (pledge.status === outcome) return ok({ pledgeId, swapId: pledge.swapId })
    if (outcome !== 'withdrawn' && pledge.sticksPromised === null) return refuse({ kind: 'not-promised' })
    await tx.pledge.update({
      where,
      data: {
        status: outcome,
        settledAt: db.now(),
        answeredAt: pledge.answeredAt ?? db.now(),
      },
    })
    await writeAudit(tx, db, actor, {
      action: 'settle-pledge',
      subject: `pledge:${pledgeId}`,
      onBehalfOf: pledge.keeperId === actor.memberId ? null : pledge.keeperId,
      detail: { outcome },
    })
    return ok({ pledgeId, swapId: pledge.swapId })
  })
}
