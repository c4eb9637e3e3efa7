import type { Actor } from '#lib/access/actor.ts'
import { can, notAllowed } from '#lib/access/policy.ts'
import { type Result, refuse } from '#lib/kernel/result.ts'
import { type ClaimAnswer, undoHandOver as undoInLedger } from '#lib/ledger/claim-statements.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { inputHash } from '#lib/platform/database/once.ts'
import { claimInSwap } from '#lib/swaps/claim-in-swap.ts'
import type { UndoHandOverInput } from '#lib/swaps/input.ts'
import type { SwapsRefusal } from '#lib/swaps/refusals.ts'

/** Takes a hand-over back as if it had not been made: the sticks are promised again. Not once the swap is finished. */
export async function undoHandOver(
  db: Database,
  actor: Actor,
  input: UndoHandOverInput,
): Promise<Result<ClaimAnswer, SwapsRefusal>> {
  if (!can(actor, 'hand-over')) return refuse(notAllowed('hand-over'))
  const { claimId, reason } = input
  const claim = await claimInSwap(db, actor, claimId)
  if (!claim) return refuse({ kind: 'not-found' })
  if (claim.isFinished) return refuse({ kind: 'swap-finished' })
  return undoInLedger(db, {
    groupId: actor.groupId,
    claimId,
    recordedBy: actor.memberId,
    reason,
    key: input.key,
    hash: inputHash({ claimId, reason }),
  })
}
