import type { Actor } from '#lib/access/actor.ts'
import { can, notAllowed } from '#lib/access/policy.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import { ledgerRefusalOf } from '#lib/ledger/refusals.ts'
import { serveWaiting } from '#lib/ledger/waiting-statements.ts'
import { writeAudit } from '#lib/people/write-audit.ts'
import type { Database, Queries } from '#lib/platform/database/database.ts'
import { inputHash } from '#lib/platform/database/once.ts'
import { transact } from '#lib/platform/database/transact.ts'
import type { FinishSwapInput } from '#lib/swaps/input.ts'
import type { SwapsRefusal } from '#lib/swaps/refusals.ts'

/** What is written beside sticks that went back because nobody came for them. */
export const notFetched = 'not fetched by the end of the swap'

interface StandingClaim {
  readonly id: string
  readonly sticks: number
}

export interface FinishedSwap {
  /** Claims whose sticks went back to their store. */
  readonly claimsGivenBack: number
  readonly sticksGivenBack: number
}

/**
 * Finishes a swap. Sticks that are still promised to somebody need a word first: with `giveBackRest` they go back
 * to their store, without it the swap stays as it is. Every stick has a place afterwards.
 */
export async function finishSwap(
  db: Database,
  actor: Actor,
  input: FinishSwapInput,
): Promise<Result<FinishedSwap, SwapsRefusal>> {
  if (!can(actor, 'run-swaps')) return refuse(notAllowed('run-swaps'))
  return transact<FinishedSwap, SwapsRefusal>(
    db,
    async (tx) => {
      const where = { groupId: actor.groupId, id: input.swapId }
      const { count } = await tx.swap.updateMany({
        where: { ...where, status: { not: 'finished' } },
        data: { status: 'finished' },
      })
      if (count === 0) {
        const isThere = (await tx.swap.count({ where })) > 0
        return refuse({ kind: isThere ? 'swap-finished' : 'not-found' })
      }
      const standing = await tx.claim.findMany({
        where: { groupId: actor.groupId, swapId: input.swapId, status: 'promised' },
        select: { id: true, sticks: true },
        orderBy: { id: 'asc' },
      })
      const sticks = standing.reduce((sum, claim) => sum + claim.sticks, 0)
      if (standing.length > 0 && !input.giveBackRest)
        return refuse({ kind: 'claims-standing', claims: standing.length, sticks })
      for (const claim of standing) await cancelUnfetched(tx, db, actor, claim)
      // Whoever still waits for something of this swap waits in vain: their places are closed.
      await serveWaiting(tx, { groupId: actor.groupId, swapId: input.swapId, now: db.now() })
      await writeAudit(tx, db, actor, {
        action: 'finish-swap',
        subject: `swap:${input.swapId}`,
        detail: { claimsGivenBack: standing.length, sticksGivenBack: sticks },
      })
      return ok({ claimsGivenBack: standing.length, sticksGivenBack: sticks })
    },
    ledgerRefusalOf,
  )
}

async function cancelUnfetched(tx: Queries, db: Database, actor: Actor, claim: StandingClaim): Promise<void> {
  await tx.$queryRaw`
    select claim_id from cancel_claim(
      ${actor.groupId}::uuid, ${claim.id}::uuid, ${db.newId()}::uuid, ${actor.memberId}::uuid, ${db.now()}::timestamptz,
      ${notFetched}::text, ${db.newId()}::uuid, ${inputHash({ finish: claim.id })}::text)`
}
