import type { Actor } from '#lib/access/actor.ts'
import { mayActFor } from '#lib/access/policy.ts'
import { placeHold } from '#lib/health/place-hold.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import { moveSticks } from '#lib/ledger/move-sticks.ts'
import { ledgerRefusalOf } from '#lib/ledger/refusals.ts'
import { groupClock } from '#lib/people/group-day.ts'
import { writeAudit } from '#lib/people/write-audit.ts'
import type { Database, Queries } from '#lib/platform/database/database.ts'
import { databaseErrorOf } from '#lib/platform/database/errors.ts'
import { joinTransaction } from '#lib/platform/database/join-transaction.ts'
import { once } from '#lib/platform/database/once.ts'
import { transact } from '#lib/platform/database/transact.ts'
import { dayClock } from '#lib/wood/day-clock.ts'
import type { InspectLotInput } from '#lib/wood/inspection-input.ts'
import type { InspectionRefusal } from '#lib/wood/inspection-refusals.ts'
import { type LotToTend, lockLotToTend } from '#lib/wood/lot-to-tend.ts'
import { mayTendLot } from '#lib/wood/may-tend.ts'
import { isPresentMember } from '#lib/wood/present-member.ts'
import { projectWindows } from '#lib/wood/project-windows.ts'

export interface RecordedInspection {
  readonly inspectionId: string
  readonly code: string
  readonly destroyed: number
}

interface Looking {
  readonly tx: Queries
  readonly db: Database
  readonly actor: Actor
  readonly input: InspectLotInput
  readonly lot: LotToTend
}

/** Who looked must be there, and whoever records it must be that person or may speak for others. */
async function refuseInspector({ tx, actor, input }: Looking): Promise<InspectionRefusal | null> {
  const { inspectorId } = input
  if (!inspectorId) return null
  if (!mayActFor(actor, inspectorId)) return { kind: 'not-yourself' }
  return (await isPresentMember(tx, actor.groupId, inspectorId)) ? null : { kind: 'no-such-member' }
}

/** The look that is corrected must be of this lot and must not have been corrected before. */
async function refuseCorrection({ tx, actor, input, lot }: Looking): Promise<InspectionRefusal | null> {
  const { supersedesId } = input
  if (!supersedesId) return null
  const earlier = await tx.inspection.findUnique({
    where: { groupId_id: { groupId: actor.groupId, id: supersedesId } },
    select: { lotId: true, supersededBy: { select: { id: true } } },
  })
  if (earlier?.lotId !== lot.lotId) return { kind: 'not-found' }
  return earlier.supersededBy ? { kind: 'already-corrected' } : null
}

interface Deed {
  readonly holdId?: string
  readonly moveId?: string
  readonly destroyed: number
}

/** Destroys free sticks, all of them unless the look says how many. */
async function destroy({ tx, db, actor, input, lot }: Looking): Promise<Result<Deed, InspectionRefusal>> {
  const { groupId } = actor
  const { lotId } = lot
  const holdings = await tx.holding.findMany({
    where: { groupId, lotId, account: { in: ['store', 'promised'] } },
    select: { account: true, sticks: true },
  })
  const on = (account: string) => holdings.find((holding) => holding.account === account)?.sticks ?? 0
  const free = on('store')
  if (free === 0) return refuse({ kind: 'nothing-to-destroy', promised: on('promised') })
  const sticks = input.sticks ?? free
  const moveId = db.newId()
  await moveSticks(tx, {
    groupId,
    id: moveId,
    lotId,
    kind: 'destroy',
    from: 'store',
    to: 'destroyed',
    sticks,
    happenedAt: db.now(),
    recordedBy: actor.memberId,
    reason: input.reason ?? null,
  })
  return ok({ moveId, destroyed: sticks })
}

/** What the look leads to, in the same transaction: nothing, a hold, or the sticks destroyed. */
async function decide(looking: Looking): Promise<Result<Deed, InspectionRefusal>> {
  const { tx, db, actor, input, lot } = looking
  switch (input.decision) {
    case 'keep':
      return ok({ destroyed: 0 })
    case 'reject':
      return destroy(looking)
    case 'hold': {
      const held = await placeHold(joinTransaction(db, tx), actor, {
        key: db.newId(),
        lotId: lot.lotId,
        limbId: undefined,
        reason: input.reason ?? '',
      })
      return held.ok ? ok({ holdId: held.value.holdId, destroyed: 0 }) : held
    }
  }
}

async function writeInspection(
  { tx, db, actor, input, lot }: Looking,
  inspectedAt: Date,
  { holdId, moveId }: Deed,
): Promise<string> {
  const id = db.newId()
  const { condition, mould, shrivel, nick, decision } = input
  await tx.inspection.create({
    data: {
      groupId: actor.groupId,
      id,
      lotId: lot.lotId,
      inspectedAt,
      inspectorId: input.inspectorId ?? actor.memberId,
      recordedById: actor.memberId,
      recordedAt: db.now(),
      condition,
      mould,
      shrivel,
      budStage: input.budStage ?? null,
      nick,
      note: input.note ?? null,
      decision,
      holdId: holdId ?? null,
      moveId: moveId ?? null,
      supersedesId: input.supersedesId ?? null,
    },
  })
  return id
}

async function inspect(looking: Looking): Promise<Result<RecordedInspection, InspectionRefusal>> {
  const { tx, db, actor, input, lot } = looking
  const { groupId } = actor
  const { timeZone, today } = await groupClock(tx, db, groupId)
  if (input.onDay > today) return refuse({ kind: 'day-to-come', today })
  if (input.onDay < lot.cutOn) return refuse({ kind: 'before-the-cut', cutOn: lot.cutOn })
  const refusal = (await refuseInspector(looking)) ?? (await refuseCorrection(looking))
  if (refusal) return refuse(refusal)
  const decided = await decide(looking)
  if (!decided.ok) return decided
  const inspectedAt = input.onDay === today ? db.now() : dayClock(timeZone).noon(input.onDay)
  const inspectionId = await writeInspection(looking, inspectedAt, decided.value)
  await projectWindows(tx, db, groupId, { lotIds: [lot.lotId] })
  const { decision, condition, reason } = input
  await writeAudit(tx, db, actor, {
    action: input.supersedesId ? 'correct-inspection' : 'inspect-lot',
    subject: `lot:${lot.code}`,
    onBehalfOf: input.inspectorId && input.inspectorId !== actor.memberId ? input.inspectorId : null,
    detail: { inspection: inspectionId, condition, decision, ...(reason && { reason }) },
  })
  return ok({ inspectionId, code: lot.code, destroyed: decided.value.destroyed })
}

// Two people may correct the same look at the same moment; the second learns of the first.
const refusalOf = (error: unknown): InspectionRefusal | null =>
  databaseErrorOf(error)?.constraint === 'inspection_group_id_supersedes_id_lot_id_key'
    ? { kind: 'already-corrected' }
    : ledgerRefusalOf(error)

/**
 * Records a look at a lot in its store. What was seen of the buds counts in its window from then on; the look can put
 * the lot on hold (stewards and the organiser) or destroy its free sticks, with the reason, all in one transaction.
 * It is never overwritten: a correction names the look that it stands in for, and does not undo a hold or a move.
 * Whoever may tend the lot may look at it.
 */
export function inspectLot(
  db: Database,
  actor: Actor,
  input: InspectLotInput,
): Promise<Result<RecordedInspection, InspectionRefusal>> {
  const { groupId } = actor
  return transact<RecordedInspection, InspectionRefusal>(
    db,
    (tx) =>
      once<RecordedInspection, InspectionRefusal>(tx, groupId, input.key, 'inspect-lot', input, async () => {
        const lot = await lockLotToTend(tx, groupId, input.lotId)
        if (!lot) return refuse({ kind: 'not-found' })
        if (!mayTendLot(actor, lot)) return refuse({ kind: 'not-your-wood' })
        return inspect({ tx, db, actor, input, lot })
      }),
    refusalOf,
  )
}
