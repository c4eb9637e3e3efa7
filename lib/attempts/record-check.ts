import type { Actor } from '#lib/access/actor.ts'
import { ownWordsCause, type RecordCheckInput } from '#lib/attempts/input.ts'
import { type LockedAttempt, lockAttempt } from '#lib/attempts/lock-attempt.ts'
import type { AttemptsRefusal } from '#lib/attempts/refusals.ts'
import { type CivilDate, utcMidnight } from '#lib/kernel/civil-date.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import { ledgerRefusalOf } from '#lib/ledger/refusals.ts'
import { groupDay } from '#lib/people/group-day.ts'
import { writeAudit } from '#lib/people/write-audit.ts'
import type { Database, Queries } from '#lib/platform/database/database.ts'
import { once } from '#lib/platform/database/once.ts'
import { transact } from '#lib/platform/database/transact.ts'

export interface RecordedCheck {
  readonly checkId: string
  readonly attemptId: string
}

function refuseCheck(input: LookInput, attempt: LockedAttempt, today: CivilDate): AttemptsRefusal | null {
  if (attempt.withdrawReason !== null) return { kind: 'withdrawn', reason: attempt.withdrawReason }
  if (input.checkedOn > today) return { kind: 'in-future', today }
  if (input.checkedOn < attempt.madeOn) return { kind: 'before-attempt', madeOn: attempt.madeOn }
  const sum = input.alive + input.dead + input.unknown
  if (sum !== attempt.pieces) return { kind: 'does-not-add-up', pieces: attempt.pieces, sum }
  const named = input.causes.reduce((total, cause) => total + cause.pieces, 0)
  if (named > input.dead) return { kind: 'too-many-causes', dead: input.dead, named }
  return null
}

/** The look that is corrected must be of this attempt and must not have been corrected before. */
async function refuseCorrection(
  tx: Queries,
  groupId: string,
  input: LookInput,
): Promise<AttemptsRefusal | null> {
  if (input.supersedesId === undefined) return null
  const earlier = await tx.outcomeCheck.findUnique({
    where: { groupId_id: { groupId, id: input.supersedesId } },
    select: { attemptId: true, supersededBy: { select: { id: true } } },
  })
  if (earlier?.attemptId !== input.attemptId) return { kind: 'not-found' }
  return earlier.supersededBy ? { kind: 'already-corrected' } : null
}

/** What is written of a look: the input without the key of its form. */
export type LookInput = Omit<RecordCheckInput, 'key'>

interface NewCheck {
  readonly id: string
  readonly pieces: number
  readonly recordedAt: Date
  /** The mailed link through which it was answered. */
  readonly linkId: string | null
}

async function writeCheck(tx: Queries, actor: Actor, input: LookInput, check: NewCheck): Promise<void> {
  const { groupId } = actor
  await tx.outcomeCheck.create({
    data: {
      groupId,
      id: check.id,
      attemptId: input.attemptId,
      pieces: check.pieces,
      checkedOn: utcMidnight(input.checkedOn),
      alive: input.alive,
      dead: input.dead,
      unknown: input.unknown,
      unknownWhy: input.unknown > 0 ? (input.unknownWhy ?? null) : null,
      checkpoint: input.checkpoint ?? null,
      state: input.alive > 0 ? (input.state ?? null) : null,
      linkId: check.linkId,
      note: input.note ?? null,
      recordedById: actor.memberId,
      recordedAt: check.recordedAt,
      supersedesId: input.supersedesId ?? null,
    },
  })
  await tx.checkCause.createMany({
    data: input.causes.map(({ cause, pieces, words }) => ({
      groupId,
      checkId: check.id,
      cause,
      pieces,
      words: cause === ownWordsCause ? (words ?? null) : null,
    })),
  })
}

/** Records a look inside a transaction that is there already. */
export async function recordLook(
  tx: Queries,
  db: Database,
  actor: Actor,
  input: LookInput,
  linkId: string | null = null,
): Promise<Result<RecordedCheck, AttemptsRefusal>> {
  const { groupId } = actor
  const { attemptId } = input
  const locked = await lockAttempt(tx, actor, attemptId)
  if (!locked.ok) return locked
  const { growerId, pieces } = locked.value
  const today = await groupDay(tx, db, actor)
  const refusal = refuseCheck(input, locked.value, today) ?? (await refuseCorrection(tx, groupId, input))
  if (refusal) return refuse(refusal)
  const checkId = db.newId()
  await writeCheck(tx, actor, input, { id: checkId, pieces, recordedAt: db.now(), linkId })
  const verb = linkId !== null ? 'answer-by-link' : 'record-check'
  await writeAudit(tx, db, actor, {
    action: input.supersedesId === undefined ? verb : 'correct-check',
    subject: `attempt:${attemptId}`,
    onBehalfOf: growerId === actor.memberId ? null : growerId,
    detail: { alive: input.alive, dead: input.dead, unknown: input.unknown },
  })
  return ok({ checkId, attemptId })
}

/**
 * Records a dated look at all pieces of an attempt: alive, dead and not known add up to its pieces. A look is
 * never overwritten; a correction names the one that it stands in for.
 */
export async function recordCheck(
  db: Database,
  actor: Actor,
  input: RecordCheckInput,
): Promise<Result<RecordedCheck, AttemptsRefusal>> {
  return transact<RecordedCheck, AttemptsRefusal>(
    db,
    (tx) => once(tx, actor.groupId, input.key, 'record-check', input, () => recordLook(tx, db, actor, input)),
    ledgerRefusalOf,
  )
}
