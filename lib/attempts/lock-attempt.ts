import type { Actor } from '#lib/access/actor.ts'
import { can, type NotAllowed, notAllowed } from '#lib/access/policy.ts'
import { type CivilDate, civilDateOf } from '#lib/kernel/civil-date.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import type { Queries } from '#lib/platform/database/database.ts'

export interface LockedAttempt {
  readonly growerId: string
  readonly madeOn: CivilDate
  readonly pieces: number
  readonly withdrawReason: string | null
}

/** Whether an entry is the actor's to see and change: they grew it, they wrote it down, or they act for others. */
export const isTheirsToChange = (
  actor: Actor,
  attempt: { readonly growerId: string; readonly recordedById: string },
): boolean =>
  actor.memberId === attempt.growerId ||
  actor.memberId === attempt.recordedById ||
  can(actor, 'act-for-others')

/** Takes an attempt for this transaction, so that a look and a withdrawal wait for each other. */
export async function lockAttempt(
  tx: Queries,
  actor: Actor,
  attemptId: string,
): Promise<Result<LockedAttempt, { readonly kind: 'not-found' } | NotAllowed>> {
  await tx.$queryRaw`
    select 1 from attempt where group_id = ${actor.groupId}::uuid and id = ${attemptId}::uuid for update`
  const attempt = await tx.attempt.findUnique({
    where: { groupId_id: { groupId: actor.groupId, id: attemptId } },
    select: { growerId: true, recordedById: true, madeOn: true, pieces: true, withdrawReason: true },
  })
  if (!attempt) return refuse({ kind: 'not-found' })
  if (!isTheirsToChange(actor, attempt)) return refuse(notAllowed('act-for-others'))
  return ok({
    growerId: attempt.growerId,
    madeOn: civilDateOf(attempt.madeOn),
    pieces: attempt.pieces,
    withdrawReason: attempt.withdrawReason,
  })
}
