import type { Actor } from '#lib/access/actor.ts'
import { can, notAllowed } from '#lib/access/policy.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import { reverseMove } from '#lib/ledger/move-sticks.ts'
import { ledgerRefusalOf } from '#lib/ledger/refusals.ts'
import { writeAudit } from '#lib/people/write-audit.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { once } from '#lib/platform/database/once.ts'
import { transact } from '#lib/platform/database/transact.ts'
import type { UndoWalkUpInput } from '#lib/swaps/input.ts'
import type { SwapsRefusal } from '#lib/swaps/refusals.ts'

/** Takes a wrongly recorded walk-up back: the sticks are in their store again. The entry and its reason stay. */
export async function undoWalkUp(
  db: Database,
  actor: Actor,
  input: UndoWalkUpInput,
): Promise<Result<{ readonly code: string }, SwapsRefusal>> {
  if (!can(actor, 'hand-over')) return refuse(notAllowed('hand-over'))
  const { groupId } = actor
  return transact<{ readonly code: string }, SwapsRefusal>(
    db,
    (tx) =>
      once<{ readonly code: string }, SwapsRefusal>(
        tx,
        groupId,
        input.key,
        'undo-walk-up',
        input,
        async () => {
          const move = await tx.move.findFirst({
            where: { groupId, id: input.moveId, kind: 'walk_up' },
            select: { id: true, reversedBy: { select: { id: true } }, lot: { select: { code: true } } },
          })
          if (!move) return refuse({ kind: 'not-found' })
          if (move.reversedBy) return refuse({ kind: 'already-reversed' })
          await reverseMove(tx, {
            groupId,
            id: db.newId(),
            moveId: move.id,
            recordedBy: actor.memberId,
            happenedAt: db.now(),
            reason: input.reason,
          })
          await writeAudit(tx, db, actor, {
            action: 'undo-walk-up',
            subject: `lot:${move.lot.code}`,
            detail: { reason: input.reason },
          })
          return ok({ code: move.lot.code })
        },
      ),
    ledgerRefusalOf,
  )
}
