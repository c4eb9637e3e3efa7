import type { Actor } from '#lib/access/actor.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { transact } from '#lib/platform/database/transact.ts'
import type { MoveWishInput } from '#lib/wishes/input.ts'
import { type ListPlace, openList } from '#lib/wishes/open-list.ts'
import type { WishesRefusal } from '#lib/wishes/refusals.ts'

export interface MovedWish extends ListPlace {
  readonly rank: number
}

/**
 * Moves a wish one place up or down its list. Nothing happens at the end of the list, nor when the wish is no
 * longer where the page showed it, so that a second click moves it once.
 */
export function moveWish(
  db: Database,
  actor: Actor,
  { wishId, rank, direction }: MoveWishInput,
): Promise<Result<MovedWish, WishesRefusal>> {
  const { groupId } = actor
  return transact<MovedWish, WishesRefusal>(db, async (tx) => {
    const where = { groupId_id: { groupId, id: wishId } }
    const seen = await tx.wish.findUnique({ where })
    if (!seen) return refuse({ kind: 'not-found' })
    const { swapId, memberId } = seen
    const list = await openList(tx, actor, swapId, memberId)
    if (!list.ok) return list
    const wish = await tx.wish.findUnique({ where })
    if (!wish) return refuse({ kind: 'not-found' })
    const to = direction === 'up' ? rank - 1 : rank + 1
    if (wish.rank !== rank) return ok({ rank: wish.rank, swapId, memberId })
    const other = await tx.wish.count({ where: { groupId, swapId, memberId, rank: to } })
    if (other === 0) return ok({ rank, swapId, memberId })
    await tx.$executeRaw`
      update wish set rank = case rank when ${rank}::int then ${to}::int else ${rank}::int end
      where group_id = ${groupId}::uuid and swap_id = ${swapId}::uuid and member_id = ${memberId}::uuid
        and rank in (${rank}::int, ${to}::int)`
    return ok({ rank: to, swapId, memberId })
  })
}
