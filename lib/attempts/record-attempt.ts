import type { Actor } from '#lib/access/actor.ts'
import { mayActFor, notAllowed } from '#lib/access/policy.ts'
import { findWood, type Wood } from '#lib/attempts/find-wood.ts'
import type { AttemptInput, RecordAttemptInput } from '#lib/attempts/input.ts'
import { ledgerInstant } from '#lib/attempts/ledger-instant.ts'
import type { AttemptsRefusal } from '#lib/attempts/refusals.ts'
import { utcMidnight } from '#lib/kernel/civil-date.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import { moveSticks } from '#lib/ledger/move-sticks.ts'
import { ledgerRefusalOf } from '#lib/ledger/refusals.ts'
import { groupClock } from '#lib/people/group-day.ts'
import { writeAudit } from '#lib/people/write-audit.ts'
import type { Database, Queries } from '#lib/platform/database/database.ts'
import { once } from '#lib/platform/database/once.ts'
import { transact } from '#lib/platform/database/transact.ts'

export interface RecordedAttempt {
  readonly attemptId: string
}

interface NewAttempt {
  readonly attemptId: string
  readonly growerId: string
  readonly wood: Wood
  readonly host: Host
  readonly timeZone: string
  /** Where it stands among entries that were made together. */
  readonly place: BatchPlace | null
}

export interface BatchPlace {
  readonly batchId: string
  readonly place: number
}

async function writeAttempt(
  tx: Queries,
  db: Database,
  actor: Actor,
  input: AttemptInput,
  { attemptId, growerId, wood, host, timeZone, place }: NewAttempt,
): Promise<void> {
  const { groupId } = actor
  const isOfLot = wood.source === 'lot'
  await tx.attempt.create({
    data: {
      groupId,
      id: attemptId,
      lotId: isOfLot ? wood.lotId : null,
      fromLimbId: isOfLot ? null : wood.fromLimbId,
      varietyId: wood.varietyId,
      growerId,
      recordedById: actor.memberId,
      method: input.method,
      treatment: input.treatment ?? null,
      stock: input.stock ?? null,
      hostTreeId: host.treeId,
      hostLimbId: host.limbId,
      wrap: input.wrap ?? null,
      nodes: input.nodes ?? null,
      bottomHeatC: input.bottomHeatC ?? null,
      hormone: input.hormone === undefined ? null : input.hormone === 'yes',
      batchId: place?.batchId ?? null,
      batchPlace: place?.place ?? null,
      madeOn: utcMidnight(input.madeOn),
      pieces: input.pieces,
      sticksUsed: isOfLot ? wood.sticks : 0,
      skill: input.skill,
      note: input.note ?? null,
      createdAt: db.now(),
    },
  })
  const onBehalfOf = growerId === actor.memberId ? null : growerId
  if (isOfLot) {
    await moveSticks(tx, {
      groupId,
      id: db.newId(),
      lotId: wood.lotId,
      kind: 'use',
      from: wood.account,
      to: 'used',
      sticks: wood.sticks,
      happenedAt: ledgerInstant(timeZone, input.madeOn, db.now()),
      recordedBy: actor.memberId,
      onBehalfOf,
      attemptId,
    })
  }
  await writeAudit(tx, db, actor, {
    action: 'record-attempt',
    subject: `attempt:${attemptId}`,
    onBehalfOf,
    detail: { method: input.method, pieces: input.pieces },
  })
}

interface Host {
  readonly treeId: string | null
  readonly limbId: string | null
}

/** What it was put on: a tree of the group, a limb of one, or nothing on record. Null when there is no such thing. */
async function findHost(tx: Queries, groupId: string, input: AttemptInput): Promise<Host | null> {
  const limbId = input.host?.kind === 'limb' ? input.host.id : (input.hostLimbId ?? null)
  const treeId = input.host?.kind === 'tree' ? input.host.id : (input.hostTreeId ?? null)
  if (limbId !== null) {
    const limb = await tx.limb.findUnique({
      where: { groupId_id: { groupId, id: limbId } },
      select: { treeId: true },
    })
    return limb && (treeId === null || treeId === limb.treeId) ? { treeId: limb.treeId, limbId } : null
  }
  if (treeId === null) return { treeId: null, limbId: null }
  const tree = await tx.tree.findUnique({ where: { groupId_id: { groupId, id: treeId } } })
  return tree && { treeId, limbId: null }
}

/** Records a batch inside a transaction that is there already. */
export async function recordOneAttempt(
  tx: Queries,
  db: Database,
  actor: Actor,
  input: AttemptInput,
  place: BatchPlace | null = null,
): Promise<Result<RecordedAttempt, AttemptsRefusal>> {
  const { groupId } = actor
  const growerId = input.growerId ?? actor.memberId
  if (!mayActFor(actor, growerId)) return refuse(notAllowed('act-for-others'))
  const { timeZone, today } = await groupClock(tx, db, groupId)
  if (input.madeOn > today) return refuse({ kind: 'in-future', today })
  const grower = await tx.member.findUnique({ where: { groupId_id: { groupId, id: growerId } } })
  if (!grower) return refuse({ kind: 'not-found' })
  const host = await findHost(tx, groupId, input)
  if (!host) return refuse({ kind: 'not-found' })
  const wood = await findWood(tx, actor, growerId, input)
  if (!wood.ok) return wood
  const attemptId = db.newId()
  await writeAttempt(tx, db, actor, input, {
    attemptId,
    growerId,
    wood: wood.value,
    host,
    timeZone,
    place,
  })
  return ok({ attemptId })
}

/**
 * Records a batch of grafts, buds, cuttings or layers. Sticks of a lot move from the grower (or from the store,
 * when the wood was theirs all along) to `used`; own wood moves nothing. Helpers may record for others, also for
 * people without an account.
 */
export async function recordAttempt(
  db: Database,
  actor: Actor,
  input: RecordAttemptInput,
): Promise<Result<RecordedAttempt, AttemptsRefusal>> {
  return transact<RecordedAttempt, AttemptsRefusal>(
    db,
    (tx) =>
      once(tx, actor.groupId, input.key, 'record-attempt', input, () =>
        recordOneAttempt(tx, db, actor, input),
      ),
    ledgerRefusalOf,
  )
}
