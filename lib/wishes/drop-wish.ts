import type { Actor } from '#lib/access/actor.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import { writeAudit } from '#lib/people/write-audit.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { transact } from '#lib/platform/database/transact.ts'
import type { DropWishInput } from '#lib/wishes/input.ts'
import { type ListPlace, openList } from '#lib/wishes/open-list.ts'
import type { WishesRefusal } from '#lib/wishes/refusals.ts'

/** Takes a wish off its list; those below move up. */
export function dropWish(
  db: Database,
  actor: Actor,
  { wishId }: DropWishInput,
): Promise<Result<ListPlace, WishesRefusal>> {
  const { groupId } = actor
  return transact<ListPlace, WishesRefusal>(db, async (tx) => {
    const seen = await tx.wish.findUnique({ where: { groupId_id: { groupId, id: wishId } } })
    if (!seen) return refuse({ kind: 'not-found' })
    const { swapId, memberId } = seen
    const list = await openList(tx, actor, swapId, memberId)
    if (!list.ok) return list
    // Looked at again: by now somebody else may have moved or dropped it.
    const wish = await tx.wish.findUnique({ where: { groupId_id: { groupId, id: wishId } } })
    if (!wish) return refuse({ kind: 'not-found' })
    await tx.wish.delete({ where: { groupId_id: { groupId, id: wishId } } })
    await tx.wish.updateMany({
      where: { groupId, swapId, memberId, rank: { gt: wish.rank } },
      data: { rank: { decrement: 1 } },
    })
    await writeAudit(tx, db, actor, {
      action: 'drop-wish',
      subject: `wish:${wishId}`,
      onBehalfOf: memberId === actor.memberId ? null : memberId,
      detail: { swapId, rank: wish.rank },
    })
    return ok({ swapId, memberId })
  })
}
