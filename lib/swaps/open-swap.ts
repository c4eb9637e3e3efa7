import type { Actor } from '#lib/access/actor.ts'
import { can, notAllowed } from '#lib/access/policy.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import { serveWaiting } from '#lib/ledger/waiting-statements.ts'
import { writeAudit } from '#lib/people/write-audit.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { transact } from '#lib/platform/database/transact.ts'
import type { OpenSwapInput } from '#lib/swaps/input.ts'
import type { SwapsRefusal } from '#lib/swaps/refusals.ts'

/**
 * Opens a swap: members can claim between its two times. A finished swap may be opened again, so that a
 * mistake at the end of a long day is no harm.
 */
export async function openSwap(
  db: Database,
  actor: Actor,
  input: OpenSwapInput,
): Promise<Result<{ readonly swapId: string }, SwapsRefusal>> {
  if (!can(actor, 'run-swaps')) return refuse(notAllowed('run-swaps'))
  return transact<{ readonly swapId: string }, SwapsRefusal>(db, async (tx) => {
    const where = { groupId: actor.groupId, id: input.swapId }
    const { count } = await tx.swap.updateMany({
      where: { ...where, status: { not: 'open' } },
      data: { status: 'open' },
    })
    if (count === 0) {
      const isThere = (await tx.swap.count({ where })) > 0
      return refuse({ kind: isThere ? 'swap-already-open' : 'not-found' })
    }
    await serveWaiting(tx, { groupId: actor.groupId, swapId: input.swapId, now: db.now() })
    await writeAudit(tx, db, actor, { action: 'open-swap', subject: `swap:${input.swapId}` })
    return ok({ swapId: input.swapId })
  })
}
