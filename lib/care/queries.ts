import type { Actor } from '#lib/access/actor.ts'
import { mayActFor } from '#lib/access/policy.ts'
import { hemisphereOf } from '#lib/attempts/hemisphere.ts'
import { isTheirsToChange } from '#lib/attempts/lock-attempt.ts'
import { standingCheck } from '#lib/attempts/standing-check.ts'
import { careOf, isAskedFor } from '#lib/care/care-of.ts'
import type { CareAnswerView, CareBatch, CareDue, CareView } from '#lib/care/view.ts'
import { findMethod } from '#lib/grafting/methods.ts'
import { addDays, type CivilDate, civilDateOf, utcMidnight } from '#lib/kernel/civil-date.ts'
import { isUuid } from '#lib/kernel/id.ts'
import { groupClock } from '#lib/people/group-day.ts'
import type { Database, Queries } from '#lib/platform/database/database.ts'
import type { Prisma } from '#lib/platform/generated/client.ts'

/** Care ends with the second season. */
const caredForDays = 550
const mostBatches = 300

export const forCare = {
  variety: { select: { name: true } },
  hostTree: { select: { code: true } },
  checks: {
    select: {
      checkedOn: true,
      seq: true,
      alive: true,
      checkpoint: true,
      state: true,
      recordedAt: true,
      supersededBy: { select: { id: true } },
    },
  },
  careAnswers: { include: { answeredBy: { select: { displayName: true } } }, orderBy: { seq: 'asc' } },
} as const satisfies Prisma.AttemptInclude

export type CareRow = Prisma.AttemptGetPayload<{ include: typeof forCare }>

/** The newest answer to each task. */
function answersOf(row: CareRow): ReadonlyMap<string, CareAnswerView> {
  return new Map(
    row.careAnswers.map((said) => [
      said.task,
      {
        answer: said.answer,
        reason: said.reason,
        until: said.deferredUntil && civilDateOf(said.deferredUntil),
        on: civilDateOf(said.answeredOn),
        by: said.answeredBy.displayName,
      },
    ]),
  )
}

/** Whether anything of a batch is alive; true while nobody has looked. */
export function isAnyAlive(row: Pick<CareRow, 'checks'>): boolean {
  const standing = standingCheck(
    row.checks.map((check) => ({
      checkedOn: civilDateOf(check.checkedOn),
      seq: Number(check.seq),
      alive: check.alive,
      isCorrected: check.supersededBy !== null,
    })),
  )
  return standing === null || standing.alive > 0
}

export function careBatch(row: CareRow, timeZone: string, today: CivilDate): CareBatch {
  const madeOn = civilDateOf(row.madeOn)
  return {
    attemptId: row.id,
    varietyName: row.variety.name,
    methodName: findMethod(row.method)?.name ?? row.method,
    pieces: row.pieces,
    stock: row.stock,
    hostTreeCode: row.hostTree?.code ?? null,
    madeOn,
    care: careOf(
      {
        method: row.method,
        wrap: row.wrap,
        madeOn,
        hemisphere: hemisphereOf(timeZone),
        isAnyAlive: row.withdrawnAt === null && isAnyAlive(row),
      },
      answersOf(row),
      today,
    ),
  }
}

/** A grower's batches of the last two seasons, the newest first, with all that care needs. One statement a table. */
export async function careRows(
  tx: Queries,
  groupId: string,
  growerId: string,
  today: CivilDate,
): Promise<readonly CareRow[]> {
  return tx.attempt.findMany({
    where: { groupId, growerId, madeOn: { gte: utcMidnight(addDays(today, -caredForDays)) } },
    include: forCare,
    orderBy: [{ madeOn: 'desc' }, { id: 'desc' }],
    take: mostBatches,
  })
}

/** The tasks that wait now for a grower, ties that may strangle first, then by day. */
export async function careDue(
  db: Database,
  actor: Actor,
  options: { readonly growerId?: string } = {},
): Promise<readonly CareDue[]> {
  const growerId = options.growerId ?? actor.memberId
  if (!mayActFor(actor, growerId)) return []
  const { timeZone, today } = await groupClock(db.prisma, db, actor.groupId)
  const rows = await careRows(db.prisma, actor.groupId, growerId, today)
  return rows
    .flatMap((row) => {
      const { care, ...batch } = careBatch(row, timeZone, today)
      return care.filter((view) => isAskedFor(view, today)).map((view) => ({ batch, care: view }))
    })
    .sort(
      (a, b) =>
        Number(b.care.state === 'overdue-strong') - Number(a.care.state === 'overdue-strong') ||
        (a.care.dueOn < b.care.dueOn ? -1 : a.care.dueOn > b.care.dueOn ? 1 : 0),
    )
}

/** The care of one batch; empty when it is not there, or not the actor's to see. */
export async function careOfAttempt(
  db: Database,
  actor: Actor,
  attemptId: string,
): Promise<readonly CareView[]> {
  if (!isUuid(attemptId)) return []
  const { groupId } = actor
  const row = await db.prisma.attempt.findUnique({
    where: { groupId_id: { groupId, id: attemptId } },
    include: forCare,
  })
  if (!row || !isTheirsToChange(actor, row)) return []
  const { timeZone, today } = await groupClock(db.prisma, db, groupId)
  return careBatch(row, timeZone, today).care
}
