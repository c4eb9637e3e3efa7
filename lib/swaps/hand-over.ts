import type { Actor } from '#lib/access/actor.ts'
import { can, notAllowed } from '#lib/access/policy.ts'
import { type Result, refuse } from '#lib/kernel/result.ts'
import { type ClaimAnswer, handOverClaim } from '#lib/ledger/claim-statements.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { inputHash } from '#lib/platform/database/once.ts'
import { claimInSwap } from '#lib/swaps/claim-in-swap.ts'
import type { HandOverInput } from '#lib/swaps/input.ts'
import type { SwapsRefusal } from '#lib/swaps/refusals.ts'

/** Hands promised sticks to their person. With fewer than promised, the rest goes back to its store. */
export async function handOver(
  db: Database,
  actor: Actor,
  input: HandOverInput,
): Promise<Result<ClaimAnswer, SwapsRefusal>> {
  if (!can(actor, 'hand-over')) return refuse(notAllowed('hand-over'))
  const { claimId, sticks } = input
  const claim = await claimInSwap(db, actor, claimId)
  if (!claim) return refuse({ kind: 'not-found' })
  return handOverClaim(db, {
    groupId: actor.groupId,
    claimId,
    recordedBy: actor.memberId,
    sticks,
    key: input.key,
    hash: inputHash({ claimId, sticks }),
  })
}
