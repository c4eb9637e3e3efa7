import type { Actor } from '#lib/access/actor.ts'
import { can } from '#lib/access/policy.ts'
import { isUuid } from '#lib/kernel/id.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { claimRows } from '#lib/swaps/claim-rows.ts'
import { getSwap } from '#lib/swaps/queries.ts'
import type { ClaimView, SwapView, WalkUpView } from '#lib/swaps/view.ts'

/** Every claim of a swap that stands, for the printed lists; null without the right to hand over. */
export async function pickList(
  db: Database,
  actor: Actor,
  swapId: string,
): Promise<{ readonly swap: SwapView; readonly claims: readonly ClaimView[] } | null> {
  if (!can(actor, 'hand-over')) return null
  const swap = await getSwap(db, actor, swapId)
  if (!swap) return null
  const claims = await claimRows(db, actor.groupId, swapId)
  return { swap, claims: claims.filter((claim) => claim.status !== 'cancelled') }
}

/** Sticks of a swap's lots that went without a name, latest first; null without the right to hand over. */
export async function walkUpsOf(db: Database, actor: Actor, swapId: string): Promise<WalkUpView[] | null> {
  if (!can(actor, 'hand-over') || !isUuid(swapId)) return null
  const moves = await db.prisma.move.findMany({
    where: { groupId: actor.groupId, kind: 'walk_up', lot: { offerings: { some: { swapId } } } },
    select: {
      id: true,
      sticks: true,
      happenedAt: true,
      reversedBy: { select: { id: true } },
      lot: { select: { code: true, limb: { select: { variety: { select: { name: true } } } } } },
    },
    orderBy: { seq: 'desc' },
    take: 50,
  })
  return moves.map((move) => ({
    moveId: move.id,
    code: move.lot.code,
    varietyName: move.lot.limb.variety?.name ?? null,
    sticks: move.sticks,
    at: move.happenedAt,
    isUndone: move.reversedBy !== null,
  }))
}
