import type { Actor } from '#lib/access/actor.ts'
import { mayActFor } from '#lib/access/policy.ts'
import { isUuid } from '#lib/kernel/id.ts'
import { type Result, refuse } from '#lib/kernel/result.ts'
import type { ClaimAnswer } from '#lib/ledger/claim-statements.ts'
import { acceptWaiting, type LeftPlace, leaveWaiting } from '#lib/ledger/waiting-statements.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { inputHash } from '#lib/platform/database/once.ts'
import type { AnswerOfferInput } from '#lib/swaps/input.ts'
import type { SwapsRefusal } from '#lib/swaps/refusals.ts'

/** Whether a place in a waiting list is the actor's to answer for; another's is as good as not there. */
async function mayAnswer(db: Database, actor: Actor, waitingId: string): Promise<boolean> {
  if (!isUuid(waitingId)) return false
  const place = await db.prisma.waiting.findUnique({
    where: { groupId_id: { groupId: actor.groupId, id: waitingId } },
    select: { memberId: true },
  })
  return place !== null && mayActFor(actor, place.memberId)
}

const changeOf = (actor: Actor, { waitingId, key }: AnswerOfferInput) => ({
  groupId: actor.groupId,
  waitingId,
  recordedBy: actor.memberId,
  key,
  hash: inputHash({ waitingId }),
})

/** Accepts what was offered from the waiting list: it becomes a claim, within the limits of this moment. */
export async function acceptOffer(
  db: Database,
  actor: Actor,
  input: AnswerOfferInput,
): Promise<Result<ClaimAnswer, SwapsRefusal>> {
  if (!(await mayAnswer(db, actor, input.waitingId))) return refuse({ kind: 'not-found' })
  return acceptWaiting(db, changeOf(actor, input))
}

/** Declines what was offered, or leaves the line before anything was; the next in line is asked at once. */
export async function leaveWaitingList(
  db: Database,
  actor: Actor,
  input: AnswerOfferInput,
): Promise<Result<LeftPlace, SwapsRefusal>> {
  if (!(await mayAnswer(db, actor, input.waitingId))) return refuse({ kind: 'not-found' })
  return leaveWaiting(db, changeOf(actor, input))
}
