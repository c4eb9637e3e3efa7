import type { Actor } from '#lib/access/actor.ts'
import { can, mayActFor } from '#lib/access/policy.ts'
import { civilDateOf } from '#lib/kernel/civil-date.ts'
import type { Database } from '#lib/platform/database/database.ts'
import type { KeeperHistory, PledgeRow } from '#lib/pledges/view.ts'

/**
 * Requests and promises of a swap: all of them for whoever may act for others, one's own for a member. Those
 * that wait for an answer come first.
 */
export async function pledgesOf(db: Database, actor: Actor, swapId: string): Promise<readonly PledgeRow[]> {
  const pledges = await db.prisma.pledge.findMany({
    where: {
      groupId: actor.groupId,
      swapId,
      ...(can(actor, 'act-for-others') ? {} : { keeperId: actor.memberId }),
    },
    include: {
      keeper: true,
      askedBy: true,
      limb: { include: { tree: true, variety: { include: { taxon: true } } } },
    },
    orderBy: [{ status: 'asc' }, { bringBy: 'asc' }, { id: 'asc' }],
  })
  return pledges.map((pledge) => ({
    pledgeId: pledge.id,
    status: pledge.status,
    treeCode: pledge.limb.tree.code,
    mark: pledge.limb.mark,
    variety: pledge.limb.variety && {
      id: pledge.limb.variety.id,
      name: pledge.limb.variety.name,
      commonName: pledge.limb.variety.taxon.commonName,
    },
    keeper: { id: pledge.keeperId, name: pledge.keeper.displayName },
    sticksAsked: pledge.sticksAsked,
    sticksPromised: pledge.sticksPromised,
    bringBy: pledge.bringBy && civilDateOf(pledge.bringBy),
    askedBy: pledge.askedBy?.displayName ?? null,
    note: pledge.note,
    isYours: mayActFor(actor, pledge.keeperId),
  }))
}

/** What came of each keeper's promises over all swaps, for whoever runs them; null for everybody else. */
export async function keeperHistories(
  db: Database,
  actor: Actor,
): Promise<ReadonlyMap<string, KeeperHistory> | null> {
  if (!can(actor, 'run-swaps')) return null
  const counts = await db.prisma.pledge.groupBy({
    by: ['keeperId', 'status'],
    where: { groupId: actor.groupId, status: { in: ['delivered', 'short', 'not_come'] } },
    _count: { _all: true },
  })
  const histories = new Map<string, KeeperHistory>()
  for (const { keeperId, status, _count } of counts) {
    const before = histories.get(keeperId) ?? { delivered: 0, short: 0, notCome: 0 }
    const key = status === 'delivered' ? 'delivered' : status === 'short' ? 'short' : 'notCome'
    histories.set(keeperId, { ...before, [key]: _count._all })
  }
  return histories
}
