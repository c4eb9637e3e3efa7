import type { Actor } from '#lib/access/actor.ts'
import { can, notAllowed } from '#lib/access/policy.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import { writeAudit } from '#lib/people/write-audit.ts'
import type { Database, Queries } from '#lib/platform/database/database.ts'
import { transact } from '#lib/platform/database/transact.ts'
import type { CheckInInput } from '#lib/swaps/day-input.ts'
import type { SwapsRefusal } from '#lib/swaps/refusals.ts'

export interface CheckedIn {
  readonly memberId: string
  /** False when somebody had done it before. */
  readonly isNew: boolean
}

async function refusalFor(tx: Queries, groupId: string, input: CheckInInput): Promise<SwapsRefusal | null> {
  const [swap, member] = [
    await tx.swap.findUnique({
      where: { groupId_id: { groupId, id: input.swapId } },
      select: { status: true },
    }),
    await tx.member.findFirst({ where: { groupId, id: input.memberId, leftOn: null }, select: { id: true } }),
  ]
  if (!swap || !member) return { kind: 'not-found' }
  return swap.status === 'finished' ? { kind: 'swap-finished' } : null
}

/** Notes that somebody came. Two helpers who tick the same name make one entry. */
export async function checkIn(
  db: Database,
  actor: Actor,
  input: CheckInInput,
): Promise<Result<CheckedIn, SwapsRefusal>> {
  if (!can(actor, 'hand-over')) return refuse(notAllowed('hand-over'))
  const { groupId } = actor
  const { swapId, memberId } = input
  return transact<CheckedIn, SwapsRefusal>(db, async (tx) => {
    const refusal = await refusalFor(tx, groupId, input)
    if (refusal) return refuse(refusal)
    const made = await tx.$executeRaw`
      insert into swap_presence (group_id, id, swap_id, member_id, came_at, recorded_by_id)
        values (${groupId}::uuid, ${db.newId()}::uuid, ${swapId}::uuid, ${memberId}::uuid,
          ${db.now()}::timestamptz, ${actor.memberId}::uuid)
        on conflict (group_id, swap_id, member_id) where undone_at is null do nothing`
    if (made > 0)
      await writeAudit(tx, db, actor, { action: 'check-in', subject: `swap:${swapId}`, onBehalfOf: memberId })
    return ok({ memberId, isNew: made > 0 })
  })
}

/** Takes it back that somebody came. Done a second time, it changes nothing. */
export async function undoCheckIn(
  db: Database,
  actor: Actor,
  input: CheckInInput,
): Promise<Result<CheckedIn, SwapsRefusal>> {
  if (!can(actor, 'hand-over')) return refuse(notAllowed('hand-over'))
  const { groupId } = actor
  const { swapId, memberId } = input
  return transact<CheckedIn, SwapsRefusal>(db, async (tx) => {
    const refusal = await refusalFor(tx, groupId, input)
    if (refusal) return refuse(refusal)
    const { count } = await tx.swapPresence.updateMany({
      where: { groupId, swapId, memberId, undoneAt: null },
      data: { undoneAt: db.now(), undoneById: actor.memberId },
    })
    if (count > 0)
      await writeAudit(tx, db, actor, {
        action: 'undo-check-in',
        subject: `swap:${swapId}`,
        onBehalfOf: memberId,
      })
    return ok({ memberId, isNew: count > 0 })
  })
}
