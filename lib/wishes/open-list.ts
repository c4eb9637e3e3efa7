import type { Actor } from '#lib/access/actor.ts'
import { mayActFor, notAllowed } from '#lib/access/policy.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import type { Queries } from '#lib/platform/database/database.ts'
import type { WishesRefusal } from '#lib/wishes/refusals.ts'

/** Whose list of wishes, for which swap. */
export interface ListPlace {
  readonly swapId: string
  readonly memberId: string
}

/**
 * Whether the actor may change somebody's wishes for a swap, now. Whoever changes a list waits here for whoever
 * else is changing the same one.
 */
export async function openList(
  tx: Queries,
  actor: Actor,
  swapId: string,
  memberId: string,
): Promise<Result<null, WishesRefusal>> {
  const { groupId } = actor
  if (!mayActFor(actor, memberId)) return refuse(notAllowed('act-for-others'))
  const [swap, member] = await Promise.all([
    tx.swap.findUnique({ where: { groupId_id: { groupId, id: swapId } } }),
    tx.member.findFirst({ where: { groupId, id: memberId, leftOn: null } }),
  ])
  if (!swap || !member) return refuse({ kind: 'not-found' })
  if (swap.status === 'finished') return refuse({ kind: 'swap-finished' })
  await tx.$executeRaw`select pg_advisory_xact_lock(hashtextextended(${`wishes:${groupId}:${swapId}:${memberId}`}, 0))`
  return ok(null)
}
