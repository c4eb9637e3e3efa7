import type { Actor } from '#lib/access/actor.ts'
import { lockAttempt } from '#lib/attempts/lock-attempt.ts'
import type { AnswerCareInput } from '#lib/care/input.ts'
import { careBatch, forCare, isAnyAlive } from '#lib/care/queries.ts'
import type { CareRefusal } from '#lib/care/refusals.ts'
import { utcMidnight } from '#lib/kernel/civil-date.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import { groupClock } from '#lib/people/group-day.ts'
import { writeAudit } from '#lib/people/write-audit.ts'
import type { Database, Queries } from '#lib/platform/database/database.ts'
import { once } from '#lib/platform/database/once.ts'
import { transact } from '#lib/platform/database/transact.ts'

export interface AnsweredCare {
  readonly attemptId: string
}

async function refusalOf(
  tx: Queries,
  db: Database,
  actor: Actor,
  input: AnswerCareInput,
): Promise<CareRefusal | null> {
  const { groupId } = actor
  const { timeZone, today } = await groupClock(tx, db, groupId)
  if (input.answer === 'deferred' && (input.until === undefined || input.until <= today)) {
    return { kind: 'until-is-past', today }
  }
  const row = await tx.attempt.findUniqueOrThrow({
    where: { groupId_id: { groupId, id: input.attemptId } },
    include: forCare,
  })
  if (!isAnyAlive(row)) return { kind: 'nothing-alive' }
  const { care } = careBatch(row, timeZone, today)
  return care.some(({ task }) => task.id === input.task) ? null : { kind: 'no-such-task' }
}

/**
 * Records what was said to a task of care: done, put off with a reason, or not needed. The newest answer counts, and
 * the earlier ones stay to be read.
 */
export async function answerCare(
  db: Database,
  actor: Actor,
  input: AnswerCareInput,
): Promise<Result<AnsweredCare, CareRefusal>> {
  const { groupId } = actor
  const { attemptId, task, answer } = input
  const work = async (tx: Queries): Promise<Result<AnsweredCare, CareRefusal>> => {
    const locked = await lockAttempt(tx, actor, attemptId)
    if (!locked.ok) return locked
    const { growerId, withdrawReason } = locked.value
    if (withdrawReason !== null) return refuse({ kind: 'withdrawn', reason: withdrawReason })
    const refusal = await refusalOf(tx, db, actor, input)
    if (refusal) return refuse(refusal)
    const { today } = await groupClock(tx, db, groupId)
    const until = answer === 'deferred' ? (input.until ?? null) : null
    await tx.careAnswer.create({
      data: {
        groupId,
        id: db.newId(),
        attemptId,
        task,
        answer,
        reason: input.reason ?? null,
        deferredUntil: until && utcMidnight(until),
        answeredOn: utcMidnight(today),
        answeredById: actor.memberId,
        recordedAt: db.now(),
      },
    })
    await writeAudit(tx, db, actor, {
      action: 'answer-care',
      subject: `attempt:${attemptId}`,
      onBehalfOf: growerId === actor.memberId ? null : growerId,
      detail: { task, answer, ...(input.reason ? { reason: input.reason } : {}) },
    })
    return ok({ attemptId })
  }
  return transact<AnsweredCare, CareRefusal>(db, (tx) =>
    once(tx, groupId, input.key, 'answer-care', input, () => work(tx)),
  )
}
