import type { Actor } from '#lib/access/actor.ts'
import type { Database } from '#lib/platform/database/database.ts'
import type { GivingLimb, WantedVariety } from '#lib/wishes/view.ts'

async function wishesByVariety(db: Database, { groupId }: Actor, swapId: string) {
  const wishes = await db.prisma.wish.groupBy({
    by: ['varietyId'],
    where: { groupId, swapId, varietyId: { not: null } },
    _count: { _all: true },
    _sum: { sticks: true },
  })
  return wishes.flatMap(({ varietyId, _count, _sum }) =>
    varietyId === null ? [] : [{ varietyId, members: _count._all, sticksWished: _sum.sticks ?? 0 }],
  )
}

async function sticksInStoreOf(db: Database, { groupId }: Actor, varietyIds: readonly string[]) {
  const { rows } = await db.pool.query<{ variety_id: string; sticks: number }>(
    `select b.variety_id, sum(h.sticks)::int as sticks
     from limb b
     join lot l on l.group_id = b.group_id and l.limb_id = b.id
     join holding h on h.group_id = l.group_id and h.lot_id = l.id and h.account = 'store'
     where b.group_id = $1 and b.variety_id = any($2) and h.sticks > 0
     group by b.variety_id`,
    [groupId, varietyIds],
  )
  return new Map(rows.map((row) => [row.variety_id, row.sticks]))
}

/** Limbs that are there, not on hold, on trees with a keeper who is still of the group. */
async function givingLimbs(
  db: Database,
  { groupId }: Actor,
  swapId: string,
  varietyIds: string[],
): Promise<ReadonlyMap<string, readonly GivingLimb[]>> {
  const limbs = await db.prisma.limb.findMany({
    where: {
      groupId,
      varietyId: { in: varietyIds },
      goneOn: null,
      holds: { none: { releasedAt: null } },
      tree: { goneOn: null, keeper: { leftOn: null } },
    },
    include: {
      tree: { include: { keeper: { select: { id: true, displayName: true } } } },
      pledges: { where: { swapId, status: { in: ['asked', 'promised'] } } },
    },
    orderBy: [{ tree: { code: 'asc' } }, { mark: 'asc' }],
  })
  const byVariety = new Map<string, GivingLimb[]>()
  for (const limb of limbs) {
    const { varietyId, tree } = limb
    if (varietyId === null) continue
    const [pledge] = limb.pledges
    byVariety.set(varietyId, [
      ...(byVariety.get(varietyId) ?? []),
      {
        limbId: limb.id,
        treeCode: tree.code,
        mark: limb.mark,
        keeper: { id: tree.keeper.id, name: tree.keeper.displayName },
        pledge: pledge
          ? {
              pledgeId: pledge.id,
              status: pledge.status === 'asked' ? 'asked' : 'promised',
              sticks: pledge.sticksPromised ?? pledge.sticksAsked ?? 0,
            }
          : null,
      },
    ])
  }
  return byVariety
}

/** The wished-for varieties of a swap, each with what there is and who could give it. Five statements. */
export async function callForWoodRows(
  db: Database,
  actor: Actor,
  swapId: string,
): Promise<readonly WantedVariety[]> {
  const { groupId } = actor
  const wanted = await wishesByVariety(db, actor, swapId)
  const ids = wanted.map(({ varietyId }) => varietyId)
  const [varieties, inStore, limbs] = await Promise.all([
    db.prisma.variety.findMany({ where: { groupId, id: { in: ids } }, include: { taxon: true } }),
    sticksInStoreOf(db, actor, ids),
    givingLimbs(db, actor, swapId, ids),
  ])
  const named = new Map(varieties.map((variety) => [variety.id, variety]))
  return wanted.flatMap((row) => {
    const variety = named.get(row.varietyId)
    if (!variety) return []
    const giving = limbs.get(row.varietyId) ?? []
    const promised = giving.reduce(
      (sum, { pledge }) => sum + (pledge?.status === 'promised' ? pledge.sticks : 0),
      0,
    )
    return [
      {
        ...row,
        name: variety.name,
        commonName: variety.taxon.commonName,
        sticksInStore: inStore.get(row.varietyId) ?? 0,
        sticksPromised: promised,
        limbs: giving,
      },
    ]
  })
}
