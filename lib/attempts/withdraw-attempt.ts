import type { Actor } from '#lib/access/actor.ts'
import type { WithdrawAttemptInput } from '#lib/attempts/input.ts'
import { lockAttempt } from '#lib/attempts/lock-attempt.ts'
import type { AttemptsRefusal } from '#lib/attempts/refusals.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import { reverseMove } from '#lib/ledger/move-sticks.ts'
import { ledgerRefusalOf } from '#lib/ledger/refusals.ts'
import { writeAudit } from '#lib/people/write-audit.ts'
import type { Database, Queries } from '#lib/platform/database/database.ts'
import { once } from '#lib/platform/database/once.ts'
import { transact } from '#lib/platform/database/transact.ts'

export interface WithdrawnAttempt {
  readonly attemptId: string
  /** Sticks that went back to where they had been. */
  readonly sticksBack: number
}

async function giveSticksBack(
  tx: Queries,
  db: Database,
  actor: Actor,
  { attemptId, reason }: WithdrawAttemptInput,
): Promise<number> {
  const used = await tx.move.findMany({
    where: { groupId: actor.groupId, attemptId, kind: 'use', reversedBy: { is: null } },
    select: { id: true, sticks: true },
    orderBy: { seq: 'asc' },
  })
  for (const move of used) {
    await reverseMove(tx, {
      groupId: actor.groupId,
      id: db.newId(),
      moveId: move.id,
      recordedBy: actor.memberId,
      happenedAt: db.now(),
      reason,
    })
  }
  return used.reduce((sum, move) => sum + move.sticks, 0)
}

/**
 * Takes a mistaken entry out of every count and gives its sticks back by reversal. The entry and its looks stay
 * to be read, with the reason.
 */
export async function withdrawAttempt(
  db: Database,
  actor: Actor,
  input: WithdrawAttemptInput,
): Promise<Result<WithdrawnAttempt, AttemptsRefusal>> {
  const { groupId } = actor
  const { attemptId, reason } = input
  const work = async (tx: Queries): Promise<Result<WithdrawnAttempt, AttemptsRefusal>> => {
    const locked = await lockAttempt(tx, actor, attemptId)
    if (!locked.ok) return locked
    const { growerId, withdrawReason } = locked.value
    if (withdrawReason !== null) return refuse({ kind: 'withdrawn', reason: withdrawReason })
    const limb = await tx.limb.findFirst({
      where: { groupId, fromAttemptId: attemptId },
      select: { tree: { select: { code: true } } },
    })
    if (limb) return refuse({ kind: 'became-limb', treeCode: limb.tree.code })
    await tx.attempt.update({
      where: { groupId_id: { groupId, id: attemptId } },
      data: { withdrawnAt: db.now(), withdrawReason: reason },
    })
    const sticksBack = await giveSticksBack(tx, db, actor, input)
    await writeAudit(tx, db, actor, {
      action: 'withdraw-attempt',
      subject: `attempt:${attemptId}`,
      onBehalfOf: growerId === actor.memberId ? null : growerId,
      detail: { reason, sticksBack },
    })
    return ok({ attemptId, sticksBack })
  }
  return transact<WithdrawnAttempt, AttemptsRefusal>(
    db,
    (tx) => once(tx, groupId, input.key, 'withdraw-attempt', input, () => work(tx)),
    ledgerRefusalOf,
  )
}
