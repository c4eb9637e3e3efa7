import type { Actor } from '#lib/access/actor.ts'
import { can } from '#lib/access/policy.ts'
import type { HeldLot, HoldRow, HoldView, NeighbourLot } from '#lib/health/view.ts'
import { civilDateOf } from '#lib/kernel/civil-date.ts'
import { isUuid } from '#lib/kernel/id.ts'
import type { Database } from '#lib/platform/database/database.ts'
import type { ToolCare } from '#lib/platform/generated/enums.ts'
import { type LotRow, lotRows } from '#lib/wood/lot-rows.ts'
import { stickSums } from '#lib/wood/view.ts'

interface RawHold {
  readonly id: string
  readonly lot_code: string | null
  readonly limb_id: string
  readonly tree_code: string
  readonly mark: string
  readonly limbs_on_tree: number
  readonly variety_name: string | null
  readonly common_name: string | null
  readonly reason: string
  readonly placed_by: string
  readonly placed_at: Date
  readonly released_by: string | null
  readonly released_at: Date | null
  readonly release_reason: string | null
  readonly lots: number
  readonly in_store: number
  readonly promised: number
}

const toHoldRow = (row: RawHold): HoldRow => ({
  holdId: row.id,
  lotCode: row.lot_code,
  limbId: row.limb_id,
  treeCode: row.tree_code,
  mark: row.mark,
  limbsOnTree: row.limbs_on_tree,
  varietyName: row.variety_name,
  commonName: row.common_name,
  reason: row.reason,
  placedBy: row.placed_by,
  placedAt: row.placed_at,
  releasedBy: row.released_by,
  releasedAt: row.released_at,
  releaseReason: row.release_reason,
  lots: row.lots,
  sticksInStore: row.in_store,
  sticksPromised: row.promised,
})

const holdsShown = 200

async function holdRows(db: Database, groupId: string, holdId: string | null): Promise<HoldRow[]> {
  const rows = await db.prisma.$queryRaw<RawHold[]>`
    select h.id, own.code as lot_code, b.id as limb_id, t.code as tree_code, b.mark, limbs.standing as limbs_on_tree,
        y.name as variety_name, x.common_name, h.reason, p.display_name as placed_by, h.placed_at,
        r.display_name as released_by, h.released_at, h.release_reason, wood.lots, wood.in_store, wood.promised
      from health_hold h
      left join lot own on own.group_id = h.group_id and own.id = h.lot_id
      join limb b on b.group_id = h.group_id and b.id = coalesce(h.limb_id, own.limb_id)
      join tree t on t.group_id = b.group_id and t.id = b.tree_id
      left join variety y on y.group_id = b.group_id and y.id = b.variety_id
      left join taxon x on x.key = y.taxon_key
      join member p on p.group_id = h.group_id and p.id = h.placed_by_id
      left join member r on r.group_id = h.group_id and r.id = h.released_by_id
      cross join lateral (select count(*)::int as standing from limb o
        where o.group_id = b.group_id and o.tree_id = b.tree_id and o.gone_on is null) limbs
      cross join lateral (
        select count(distinct l.id)::int as lots,
            coalesce(sum(g.sticks) filter (where g.account in ('store', 'promised')), 0)::int as in_store,
            coalesce(sum(g.sticks) filter (where g.account = 'promised'), 0)::int as promised
          from lot l left join holding g on g.group_id = l.group_id and g.lot_id = l.id
          where l.group_id = h.group_id and (l.id = h.lot_id or l.limb_id = h.limb_id)) wood
      where h.group_id = ${groupId}::uuid and (${holdId}::uuid is null or h.id = ${holdId}::uuid)
      order by h.released_at is not null, coalesce(h.released_at, h.placed_at) desc, h.id
      limit ${holdsShown}`
  return rows.map(toHoldRow)
}

/** The holds of the group: the open ones, then those released, the latest first. One statement. */
export const listHolds = (db: Database, actor: Actor): Promise<HoldRow[]> => holdRows(db, actor.groupId, null)

async function holdersOf(
  db: Database,
  groupId: string,
  lotIds: readonly string[],
): Promise<{ lotId: string; name: string; sticks: number }[]> {
  const holdings = await db.prisma.holding.findMany({
    where: { groupId, lotId: { in: [...lotIds] }, memberId: { not: null }, sticks: { gt: 0 } },
    include: { member: { select: { displayName: true } } },
    orderBy: { member: { displayName: 'asc' } },
  })
  return holdings.map(({ lotId, sticks, member }) => ({ lotId, sticks, name: member?.displayName ?? '' }))
}

/** Other lots of the sessions in which held wood was cut, in the order of cutting. */
async function neighboursOf(db: Database, groupId: string, lots: readonly LotRow[]): Promise<NeighbourLot[]> {
  const held = lots.map((lot) => lot.lotId)
  const rows = await db.prisma.$queryRaw<
    {
      readonly code: string
      readonly variety_name: string | null
      readonly common_name: string | null
      readonly tree_code: string
      readonly cut_on: Date
      readonly tool_care: ToolCare
      readonly is_after: boolean
    }[]
  >`
    select l.code, y.name as variety_name, x.common_name, t.code as tree_code, l.cut_on, c.tool_care::text as tool_care,
        bool_or(own.seq > hers.seq) as is_after
      from lot l
      join cutting_session c on c.group_id = l.group_id and c.id = l.session_id
      join lot h on h.group_id = l.group_id and h.session_id = l.session_id and h.id = any(${held}::uuid[])
      join limb b on b.group_id = l.group_id and b.id = l.limb_id
      join tree t on t.group_id = b.group_id and t.id = b.tree_id
      left join variety y on y.group_id = b.group_id and y.id = b.variety_id
      left join taxon x on x.key = y.taxon_key
      cross join lateral (select min(v.seq) as seq from move v where v.group_id = l.group_id and v.lot_id = l.id) own
      cross join lateral (select min(v.seq) as seq from move v where v.group_id = h.group_id and v.lot_id = h.id) hers
      where l.group_id = ${groupId}::uuid and l.id <> all(${held}::uuid[])
      group by l.code, y.name, x.common_name, t.code, l.cut_on, c.tool_care, own.seq
      order by l.cut_on desc, own.seq`
  return rows.map((row) => ({
    code: row.code,
    varietyName: row.variety_name,
    commonName: row.common_name,
    treeCode: row.tree_code,
    cutOn: civilDateOf(row.cut_on),
    toolCare: row.tool_care,
    isAfter: row.is_after,
  }))
}

/**
 * A hold with the lots it stops, who has sticks of them, and what was cut with the same tool on the same day; null
 * when the group has no such hold. Who has sticks is there for those who may see contacts.
 */
export async function getHold(db: Database, actor: Actor, holdId: string): Promise<HoldView | null> {
  if (!isUuid(holdId)) return null
  const { groupId } = actor
  const [[hold], group] = await Promise.all([
    holdRows(db, groupId, holdId),
    db.prisma.orchardGroup.findUniqueOrThrow({ where: { id: groupId }, select: { timeZone: true } }),
  ])
  if (!hold) return null
  const lots = await lotRows(
    db.prisma,
    groupId,
    hold.lotCode ? { code: hold.lotCode } : { limbId: hold.limbId, limit: holdsShown },
  )
  const seesHolders = can(actor, 'see-contacts')
  const [holders, neighbours] = await Promise.all([
    seesHolders
      ? holdersOf(
          db,
          groupId,
          lots.map((lot) => lot.lotId),
        )
      : [],
    neighboursOf(db, groupId, lots),
  ])
  return {
    hold,
    timeZone: group.timeZone,
    lots: lots.map(
      (lot): HeldLot => ({
        lot,
        sums: stickSums(lot.sticks),
        holders: holders.filter(({ lotId }) => lotId === lot.lotId),
      }),
    ),
    neighbours,
    seesHolders,
    mayRelease: can(actor, 'place-holds'),
  }
}
