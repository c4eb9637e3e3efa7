import type { Actor } from '#lib/access/actor.ts'
import { mayActFor, notAllowed } from '#lib/access/policy.ts'
import { type Result, refuse } from '#lib/kernel/result.ts'
import { joinWaiting, type PlaceInLine } from '#lib/ledger/waiting-statements.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { inputHash } from '#lib/platform/database/once.ts'
import type { ClaimOfferingInput } from '#lib/swaps/input.ts'
import type { SwapsRefusal } from '#lib/swaps/refusals.ts'

/**
 * Asks for shares of a lot that is all claimed, for oneself or for somebody by a person who may. What comes free is
 * offered in the order of asking; refused while shares can simply be claimed.
 */
export async function joinWaitingList(
  db: Database,
  actor: Actor,
  input: ClaimOfferingInput,
): Promise<Result<PlaceInLine & { readonly memberId: string }, SwapsRefusal>> {
  const memberId = input.memberId ?? actor.memberId
  if (!mayActFor(actor, memberId)) return refuse(notAllowed('act-for-others'))
  const { offeringId, shares } = input
  const purpose = input.purpose ?? null
  const joined = await joinWaiting(db, {
    groupId: actor.groupId,
    offeringId,
    memberId,
    recordedBy: actor.memberId,
    shares,
    purpose,
    key: input.key,
    hash: inputHash({ offeringId, memberId, shares, purpose }),
  })
  return joined.ok ? { ok: true, value: { ...joined.value, memberId } } : joined
}
