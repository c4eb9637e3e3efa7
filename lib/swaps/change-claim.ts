import type { Actor } from '#lib/access/actor.ts'
import { mayActFor } from '#lib/access/policy.ts'
import { type Result, refuse } from '#lib/kernel/result.ts'
import { changeClaimShares } from '#lib/ledger/claim-statements.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { inputHash } from '#lib/platform/database/once.ts'
import { claimInSwap } from '#lib/swaps/claim-in-swap.ts'
import type { MadeClaim } from '#lib/swaps/claim-offering.ts'
import type { ChangeClaimInput } from '#lib/swaps/input.ts'
import type { SwapsRefusal } from '#lib/swaps/refusals.ts'

/**
 * Changes how many shares a claim is for, without giving it up in between: more while claims are open and some are
 * free, fewer at any time until it is handed over. Somebody else's claim is as good as not there.
 */
export async function changeClaim(
  db: Database,
  actor: Actor,
  input: ChangeClaimInput,
): Promise<Result<MadeClaim, SwapsRefusal>> {
  const { claimId, shares } = input
  const claim = await claimInSwap(db, actor, claimId)
  if (!claim || !mayActFor(actor, claim.memberId)) return refuse({ kind: 'not-found' })
  return changeClaimShares(db, {
    groupId: actor.groupId,
    claimId,
    recordedBy: actor.memberId,
    shares,
    key: input.key,
    hash: inputHash({ claimId, shares }),
  })
}
