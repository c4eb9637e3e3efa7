import type { Actor } from '#lib/access/actor.ts'
import { can, notAllowed } from '#lib/access/policy.ts'
import type { ReleaseHoldInput } from '#lib/health/input.ts'
import type { HealthRefusal } from '#lib/health/refusals.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import { ledgerRefusalOf } from '#lib/ledger/refusals.ts'
import { writeAudit } from '#lib/people/write-audit.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { transact } from '#lib/platform/database/transact.ts'

/** Releases a hold, once, with a reason that stays on the record. Stewards and the organiser may. */
export function releaseHold(
  db: Database,
  actor: Actor,
  input: ReleaseHoldInput,
): Promise<Result<{ holdId: string }, HealthRefusal>> {
  const { groupId } = actor
  const { holdId } = input
  return transact<{ holdId: string }, HealthRefusal>(
    db,
    async (tx) => {
      if (!can(actor, 'place-holds')) return refuse(notAllowed('place-holds'))
      const { count } = await tx.healthHold.updateMany({
        where: { groupId, id: holdId, releasedAt: null },
        data: { releasedById: actor.memberId, releasedAt: db.now(), releaseReason: input.reason },
      })
      const hold = await tx.healthHold.findUnique({
        where: { groupId_id: { groupId, id: holdId } },
        include: { lot: { select: { code: true } }, releasedBy: { select: { displayName: true } } },
      })
      if (!hold) return refuse({ kind: 'not-found' })
      if (count === 0)
        return refuse({ kind: 'released-already', releasedBy: hold.releasedBy?.displayName ?? '' })
      await writeAudit(tx, db, actor, {
        action: 'release-hold',
        subject: hold.lot ? `lot:${hold.lot.code}` : `limb:${hold.limbId ?? ''}`,
        detail: { holdId, reason: input.reason },
      })
      return ok({ holdId })
    },
    ledgerRefusalOf,
  )
}
