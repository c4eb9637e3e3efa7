import type { Actor } from '#lib/access/actor.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import { writeAudit } from '#lib/people/write-audit.ts'
import type { Database, Queries } from '#lib/platform/database/database.ts'
import { once } from '#lib/platform/database/once.ts'
import { transact } from '#lib/platform/database/transact.ts'
import type { AddWishInput } from '#lib/wishes/input.ts'
import { openList } from '#lib/wishes/open-list.ts'
import type { WishesRefusal } from '#lib/wishes/refusals.ts'

const mostWishes = 60

export interface AddedWish {
  readonly wishId: string
  readonly rank: number
  readonly swapId: string
  readonly memberId: string
}

/** Puts a wish at the end of somebody's list for a swap. A wish gives no right to wood. */
export function addWish(
  db: Database,
  actor: Actor,
  input: AddWishInput,
): Promise<Result<AddedWish, WishesRefusal>> {
  const memberId = input.memberId ?? actor.memberId
  return transact<AddedWish, WishesRefusal>(db, (tx) =>
    once<AddedWish, WishesRefusal>(tx, actor.groupId, input.key, 'add-wish', input, async () => {
      const list = await openList(tx, actor, input.swapId, memberId)
      if (!list.ok) return list
      const refusal = await objection(tx, actor, input, memberId)
      if (refusal) return refuse(refusal)
      return ok(await append(tx, db, actor, input, memberId))
    }),
  )
}

async function objection(
  tx: Queries,
  { groupId }: Actor,
  { swapId, varietyId, taxonKey }: AddWishInput,
  memberId: string,
): Promise<WishesRefusal | null> {
  if (varietyId !== undefined) {
    const variety = await tx.variety.findUnique({ where: { groupId_id: { groupId, id: varietyId } } })
    if (!variety) return { kind: 'not-found' }
    const same = await tx.wish.findFirst({ where: { groupId, swapId, memberId, varietyId } })
    if (same) return { kind: 'wished-already', rank: same.rank }
  }
  if (taxonKey !== undefined && !(await tx.taxon.findUnique({ where: { key: taxonKey } }))) {
    return { kind: 'not-found' }
  }
  const count = await tx.wish.count({ where: { groupId, swapId, memberId } })
  return count >= mostWishes ? { kind: 'too-many-wishes', most: mostWishes } : null
}

async function append(
  tx: Queries,
  db: Database,
  actor: Actor,
  input: AddWishInput,
  memberId: string,
): Promise<AddedWish> {
  const { groupId } = actor
  const { swapId } = input
  const last = await tx.wish.aggregate({ where: { groupId, swapId, memberId }, _max: { rank: true } })
  const rank = (last._max.rank ?? 0) + 1
  const wishId = db.newId()
  await tx.wish.create({
    data: {
      groupId,
      id: wishId,
      swapId,
      memberId,
      rank,
      varietyId: input.varietyId ?? null,
      words: input.words ?? null,
      taxonKey: input.taxonKey ?? null,
      purpose: input.purpose,
      sticks: input.sticks,
      stock: input.stock ?? null,
      recordedById: actor.memberId,
      madeAt: db.now(),
    },
  })
  await writeAudit(tx, db, actor, {
    action: 'add-wish',
    subject: `wish:${wishId}`,
    onBehalfOf: memberId === actor.memberId ? null : memberId,
    detail: { swapId, rank },
  })
  return { wishId, rank, swapId, memberId }
}
