import type { Actor } from '#lib/access/actor.ts'
import { mayActFor } from '#lib/access/policy.ts'
import { civilDateOf, utcMidnight } from '#lib/kernel/civil-date.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import { writeAudit } from '#lib/people/write-audit.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { transact } from '#lib/platform/database/transact.ts'
import type { AnswerPledgeInput } from '#lib/pledges/input.ts'
import type { PledgesRefusal } from '#lib/pledges/refusals.ts'

/**
 * The keeper's answer: so many sticks by a day, or no. It may be changed until what came of it is noted. The same
 * answer twice is one answer.
 */
export function answerPledge(
  db: Database,
  actor: Actor,
  input: AnswerPledgeInput,
): Promise<Result<{ readonly pledgeId: string; readonly swapId: string }, PledgesRefusal>> {
  const { groupId } = actor
  const { pledgeId } = input
  return transact<{ readonly pledgeId: string; readonly swapId: string }, PledgesRefusal>(db, async (tx) => {
    const pledge = await tx.pledge.findUnique({
      where: { groupId_id: { groupId, id: pledgeId } },
      include: { keeper: true, swap: true },
    })
    if (!pledge) return refuse({ kind: 'not-found' })
    if (!mayActFor(actor, pledge.keeperId))
      return refuse({ kind: 'not-yours', keeper: pledge.keeper.displayName })
    const heldOn = civilDateOf(pledge.swap.heldOn)
    if (input.bringBy !== undefined && input.bringBy > heldOn)
      return refuse({ kind: 'bring-by-after-the-swap', heldOn })
    const isPromise = input.answer === 'promise'
    const { count } = await tx.pledge.updateMany({
      where: { groupId, id: pledgeId, status: { in: ['asked', 'promised', 'declined'] } },
      data: {
        status: isPromise ? 'promised' : 'declined',
        sticksPromised: isPromise ? (input.sticks ?? null) : null,
        answeredAt: db.now(),
        ...(input.bringBy === undefined ? {} : { bringBy: utcMidnight(input.bringBy) }),
        ...(input.note === undefined ? {} : { note: input.note }),
      },
    })
    if (count === 0) return refuse({ kind: 'settled', status: pledge.status })
    await writeAudit(tx, db, actor, {
      action: 'answer-pledge',
      subject: `pledge:${pledgeId}`,
      onBehalfOf: pledge.keeperId === actor.memberId ? null : pledge.keeperId,
      detail: { answer: input.answer, ...(input.sticks === undefined ? {} : { sticks: input.sticks }) },
    })
    return ok({ pledgeId, swapId: pledge.swapId })
  })
}
