import type { Actor } from '#lib/access/actor.ts'
import { mayActFor, notAllowed } from '#lib/access/policy.ts'
import { type Result, refuse } from '#lib/kernel/result.ts'
import { type ClaimAnswer, claimShares } from '#lib/ledger/claim-statements.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { inputHash } from '#lib/platform/database/once.ts'
import type { ClaimOfferingInput } from '#lib/swaps/input.ts'
import type { SwapsRefusal } from '#lib/swaps/refusals.ts'

export interface MadeClaim extends ClaimAnswer {
  /** Shares of the lot that others can still claim. */
  readonly sharesLeft: number
}

/**
 * Claims shares of a lot, for oneself or for somebody by a person who may. One round trip: limits, what is left
 * and the entry in the stick ledger are decided in one statement, however many claim at once. The entry in the
 * ledger is also the note of who did it and for whom.
 */
export async function claimOffering(
  db: Database,
  actor: Actor,
  input: ClaimOfferingInput,
): Promise<Result<MadeClaim, SwapsRefusal>> {
  const memberId = input.memberId ?? actor.memberId
  if (!mayActFor(actor, memberId)) return refuse(notAllowed('act-for-others'))
  const { offeringId, shares } = input
  const purpose = input.purpose ?? null
  const claimed = await claimShares(db, {
    groupId: actor.groupId,
    offeringId,
    memberId,
    recordedBy: actor.memberId,
    shares,
    purpose,
    key: input.key,
    hash: inputHash({ offeringId, memberId, shares, purpose }),
  })
  if (claimed.ok || claimed.refusal.kind !== 'not-enough-sticks') return claimed
  // Sticks were lost or taken since the lot was offered: what is left of it is said in shares, as it was asked.
  const offering = await db.prisma.offering.findUnique({
    where: { groupId_id: { groupId: actor.groupId, id: offeringId } },
    select: { sticksPerShare: true },
  })
  const left = offering ? Math.floor(claimed.refusal.left / offering.sticksPerShare) : 0
  return refuse({ kind: 'not-enough-shares', left })
}
