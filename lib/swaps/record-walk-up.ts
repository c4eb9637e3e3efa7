import type { Actor } from '#lib/access/actor.ts'
import { can, notAllowed } from '#lib/access/policy.ts'
import { required } from '#lib/kernel/assert.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import { moveSticks } from '#lib/ledger/move-sticks.ts'
import { ledgerRefusalOf } from '#lib/ledger/refusals.ts'
import { writeAudit } from '#lib/people/write-audit.ts'
import type { Database, Queries } from '#lib/platform/database/database.ts'
import { once } from '#lib/platform/database/once.ts'
import { transact } from '#lib/platform/database/transact.ts'
import type { RecordWalkUpInput } from '#lib/swaps/input.ts'
import type { SwapsRefusal } from '#lib/swaps/refusals.ts'

export interface WalkUp {
  readonly moveId: string
  readonly code: string
  /** Sticks of the lot still in the store. */
  readonly left: number
}

/**
 * Records sticks that somebody took without having claimed them. They are counted without a name, so a later
 * trace of the lot can only say how many of its sticks went out this way.
 */
export async function recordWalkUp(
  db: Database,
  actor: Actor,
  input: RecordWalkUpInput,
): Promise<Result<WalkUp, SwapsRefusal>> {
  if (!can(actor, 'hand-over')) return refuse(notAllowed('hand-over'))
  const { groupId } = actor
  return transact<WalkUp, SwapsRefusal>(
    db,
    (tx) =>
      once(tx, groupId, input.key, 'record-walk-up', input, async () => {
        const lot = await lotTakenFrom(tx, groupId, input)
        if (!lot) return refuse({ kind: 'not-found' })
        const moveId = db.newId()
        const left = await moveSticks(tx, {
          groupId,
          id: moveId,
          lotId: lot.id,
          kind: 'walk_up',
          from: 'store',
          to: 'unnamed',
          sticks: input.sticks,
          happenedAt: db.now(),
          recordedBy: actor.memberId,
        })
        await writeAudit(tx, db, actor, {
          action: 'record-walk-up',
          subject: `lot:${lot.code}`,
          detail: { sticks: input.sticks },
        })
        return ok({ moveId, code: lot.code, left })
      }),
    ledgerRefusalOf,
  )
}

async function lotTakenFrom(tx: Queries, groupId: string, input: RecordWalkUpInput) {
  if (input.offeringId === undefined) {
    return tx.lot.findFirst({
      where: { groupId, id: required(input.lotId, 'the lot of a walk-up') },
      select: { id: true, code: true },
    })
  }
  const offering = await tx.offering.findFirst({
    where: { groupId, id: input.offeringId, withdrawnAt: null },
    select: { lot: { select: { id: true, code: true } } },
  })
  return offering?.lot ?? null
}
