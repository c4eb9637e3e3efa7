import type { Actor } from '#lib/access/actor.ts'
import { can, notAllowed } from '#lib/access/policy.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import { serveWaiting } from '#lib/ledger/waiting-statements.ts'
import { writeAudit } from '#lib/people/write-audit.ts'
import type { Database, Queries } from '#lib/platform/database/database.ts'
import { transact } from '#lib/platform/database/transact.ts'
import type { ChangeOfferingInput } from '#lib/swaps/input.ts'
import { lockSwapOfOffering } from '#lib/swaps/lock-swap.ts'
import type { SwapsRefusal } from '#lib/swaps/refusals.ts'

/**
 * Changes how many shares a lot gives, or where it stands on the day. Never below what is claimed, nor above what
 * is there. The size of a share stays: claims have been made by it.
 */
export async function changeOffering(
  db: Database,
  actor: Actor,
  input: ChangeOfferingInput,
): Promise<Result<{ readonly offeringId: string }, SwapsRefusal>> {
  if (!can(actor, 'offer-any-lot')) return refuse(notAllowed('offer-any-lot'))
  return transact<{ readonly offeringId: string }, SwapsRefusal>(db, async (tx) => {
    await lockSwapOfOffering(tx, actor.groupId, input.offeringId)
    const offering = await lockOffering(tx, actor.groupId, input.offeringId)
    if (!offering) return refuse({ kind: 'not-found' })
    if (input.shares < offering.sharesTaken)
      return refuse({ kind: 'fewer-than-claimed', claimed: offering.sharesTaken })
    const wanted = (input.shares - offering.sharesClaimed) * offering.sticksPerShare
    if (input.shares > offering.shares && wanted > offering.inStore)
      return refuse({ kind: 'not-enough-sticks', left: offering.inStore, account: 'store' })
    await tx.offering.update({
      where: { groupId_id: { groupId: actor.groupId, id: input.offeringId } },
      data: { shares: input.shares, note: input.note ?? null },
    })
    // More shares go to whoever waits for them first.
    await serveWaiting(tx, {
      groupId: actor.groupId,
      swapId: offering.swapId,
      offeringId: input.offeringId,
      now: db.now(),
    })
    await writeAudit(tx, db, actor, {
      action: 'change-offering',
      subject: `lot:${offering.code}`,
      detail: { shares: input.shares },
    })
    return ok({ offeringId: input.offeringId })
  })
}

interface LockedOffering {
  readonly shares: number
  readonly sharesClaimed: number
  /** Claimed, or kept for somebody from the waiting list. */
  readonly sharesTaken: number
  readonly swapId: string
  readonly sticksPerShare: number
  readonly inStore: number
  readonly code: string
}

// Locked, so that no claim is made between the look and the change.
async function lockOffering(
  tx: Queries,
  groupId: string,
  offeringId: string,
): Promise<LockedOffering | null> {
  const rows = await tx.$queryRaw<LockedOffering[]>`
    select o.shares, o.shares_claimed as "sharesClaimed", o.swap_id as "swapId",
        o.shares_claimed + o.shares_reserved as "sharesTaken", o.sticks_per_share as "sticksPerShare", l.code,
        coalesce((select h.sticks from holding h
          where h.group_id = o.group_id and h.lot_id = o.lot_id and h.account = 'store'), 0) as "inStore"
      from offering o join lot l on l.group_id = o.group_id and l.id = o.lot_id
      where o.group_id = ${groupId}::uuid and o.id = ${offeringId}::uuid and o.withdrawn_at is null
      for update of o`
  return rows[0] ?? null
}
