import type { Actor } from '#lib/access/actor.ts'
import { can, notAllowed } from '#lib/access/policy.ts'
import type { PlaceHoldInput } from '#lib/health/input.ts'
import type { HealthRefusal } from '#lib/health/refusals.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import { ledgerRefusalOf } from '#lib/ledger/refusals.ts'
import { writeAudit } from '#lib/people/write-audit.ts'
import type { Database, Queries } from '#lib/platform/database/database.ts'
import { databaseErrorOf } from '#lib/platform/database/errors.ts'
import { once } from '#lib/platform/database/once.ts'
import { transact } from '#lib/platform/database/transact.ts'

type Placed = Result<{ holdId: string }, HealthRefusal>

/** What the hold is on, as the audit names it; null when the group has no such thing, or the input names not one. */
async function subjectOf(tx: Queries, groupId: string, input: PlaceHoldInput): Promise<string | null> {
  const { lotId, limbId } = input
  if (lotId && !limbId) {
    const lot = await tx.lot.findUnique({
      where: { groupId_id: { groupId, id: lotId } },
      select: { code: true },
    })
    return lot && `lot:${lot.code}`
  }
  if (limbId && !lotId) {
    const limb = await tx.limb.findUnique({
      where: { groupId_id: { groupId, id: limbId } },
      select: { id: true },
    })
    return limb && `limb:${limb.id}`
  }
  return null
}

// Two people may place the same hold at the same moment; the second learns of the first.
function refusalOf(error: unknown): HealthRefusal | null {
  const constraint = databaseErrorOf(error)?.constraint
  return constraint === 'hold_on_a_lot_is_open_once' || constraint === 'hold_on_a_limb_is_open_once'
    ? { kind: 'held-already', reason: 'somebody placed a hold at the same moment' }
    : ledgerRefusalOf(error)
}

/**
 * Puts a lot, or a limb with every lot cut from it, on hold. From then on it gives nothing: no offering, claim,
 * hand-over or new lot. Wood may still be moved between stores and destroyed. Stewards and the organiser may.
 */
export function placeHold(db: Database, actor: Actor, input: PlaceHoldInput): Promise<Placed> {
  const { groupId } = actor
  return transact<{ holdId: string }, HealthRefusal>(
    db,
    (tx) =>
      once<{ holdId: string }, HealthRefusal>(tx, groupId, input.key, 'place-hold', input, async () => {
        if (!can(actor, 'place-holds')) return refuse(notAllowed('place-holds'))
        const subject = await subjectOf(tx, groupId, input)
        if (!subject) return refuse({ kind: 'not-found' })
        const target = { lotId: input.lotId ?? null, limbId: input.limbId ?? null }
        const open = await tx.healthHold.findFirst({ where: { groupId, ...target, releasedAt: null } })
        if (open) return refuse({ kind: 'held-already', reason: open.reason })
        const holdId = db.newId()
        await tx.healthHold.create({
          data: {
            groupId,
            id: holdId,
            ...target,
            reason: input.reason,
            placedById: actor.memberId,
            placedAt: db.now(),
          },
        })
        await writeAudit(tx, db, actor, {
          action: 'place-hold',
          subject,
          detail: { holdId, reason: input.reason },
        })
        return ok({ holdId })
      }),
    refusalOf,
  )
}
