import type { Actor } from '#lib/access/actor.ts'
import { mayActFor } from '#lib/access/policy.ts'
import { type Result, refuse } from '#lib/kernel/result.ts'
import { type ClaimAnswer, cancelClaim } from '#lib/ledger/claim-statements.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { inputHash } from '#lib/platform/database/once.ts'
import { claimInSwap } from '#lib/swaps/claim-in-swap.ts'
import type { GiveBackClaimInput } from '#lib/swaps/input.ts'
import type { SwapsRefusal } from '#lib/swaps/refusals.ts'

/**
 * Gives a claim back that has not been handed over: its sticks return to their store and its shares to the table.
 * A member gives back their own; somebody else's claim is as good as not there.
 */
export async function giveBackClaim(
  db: Database,
  actor: Actor,
  input: GiveBackClaimInput,
): Promise<Result<ClaimAnswer, SwapsRefusal>> {
  const { claimId } = input
  const reason = input.reason ?? null
  const claim = await claimInSwap(db, actor, claimId)
  if (!claim || !mayActFor(actor, claim.memberId)) return refuse({ kind: 'not-found' })
  return cancelClaim(db, {
    groupId: actor.groupId,
    claimId,
    recordedBy: actor.memberId,
    reason,
    key: input.key,
    hash: inputHash({ claimId, reason }),
  })
}
