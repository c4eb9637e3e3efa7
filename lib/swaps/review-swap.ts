import type { Actor } from '#lib/access/actor.ts'
import { can } from '#lib/access/policy.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { getSwap } from '#lib/swaps/queries.ts'
import type { SwapView } from '#lib/swaps/view.ts'

/** A lot of a swap and where its sticks came to. */
export interface ReviewedLot {
  readonly code: string
  readonly varietyName: string | null
  readonly keeperId: string
  readonly keeperName: string
  readonly claims: number
  readonly handedOver: number
  /** In the store still, promised to nobody. */
  readonly inStore: number
  /** Promised to somebody still. */
  readonly promised: number
}

/** A variety that people asked for and did not get. */
export interface Shortage {
  readonly varietyName: string
  readonly people: number
}

/** A variety that one living limb of the group carries, and no other. */
export interface LastCopy {
  readonly varietyName: string
  readonly treeCode: string
}

export interface SwapReview {
  readonly swap: SwapView
  readonly shortages: readonly Shortage[]
  readonly neverClaimed: readonly ReviewedLot[]
  /** Lots with sticks that nobody has said anything about. */
  readonly unreconciled: readonly ReviewedLot[]
  readonly donors: readonly { readonly memberId: string; readonly name: string; readonly lots: number }[]
  readonly lastCopies: readonly LastCopy[]
}

const lotsOf = (db: Database, groupId: string, swapId: string) => db.prisma.$queryRaw<ReviewedLot[]>`
  select l.code, y.name as "varietyName", m.id as "keeperId", m.display_name as "keeperName",
      coalesce(c.claims, 0) as claims, coalesce(c.handed, 0) as "handedOver", coalesce(c.promised, 0) as promised,
      coalesce(h.sticks, 0) as "inStore"
    from offering o
    join lot l on l.group_id = o.group_id and l.id = o.lot_id
    join limb b on b.group_id = l.group_id and b.id = l.limb_id
    join tree t on t.group_id = b.group_id and t.id = b.tree_id
    join member m on m.group_id = t.group_id and m.id = t.keeper_id
    left join variety y on y.group_id = b.group_id and y.id = b.variety_id
    left join holding h on h.group_id = l.group_id and h.lot_id = l.id and h.account = 'store'
    left join lateral (
      select count(*)::int as claims, sum(k.sticks) filter (where k.status = 'handed_over')::int as handed,
          sum(k.sticks) filter (where k.status = 'promised')::int as promised
        from claim k where k.group_id = o.group_id and k.offering_id = o.id and k.status <> 'cancelled') c on true
    where o.group_id = ${groupId}::uuid and o.swap_id = ${swapId}::uuid and o.withdrawn_at is null
    order by y.name_key nulls last, l.code`

/** Wished for, or waited for in a line, by people who hold nothing of it from this swap. */
const shortagesOf = (db: Database, groupId: string, swapId: string) => db.prisma.$queryRaw<Shortage[]>`
  with asked as (
    select member_id, variety_id from wish
      where group_id = ${groupId}::uuid and swap_id = ${swapId}::uuid and variety_id is not null
    union
    select w.member_id, b.variety_id from waiting w
      join lot l on l.group_id = w.group_id and l.id = w.lot_id
      join limb b on b.group_id = l.group_id and b.id = l.limb_id
      where w.group_id = ${groupId}::uuid and w.swap_id = ${swapId}::uuid and w.claim_id is null
        and b.variety_id is not null)
  select y.name as "varietyName", count(*)::int as people
    from asked a join variety y on y.group_id = ${groupId}::uuid and y.id = a.variety_id
    where not exists (select 1 from claim k where k.group_id = ${groupId}::uuid and k.swap_id = ${swapId}::uuid
      and k.member_id = a.member_id and k.variety_id = a.variety_id and k.status <> 'cancelled')
    group by y.id, y.name
    order by count(*) desc, y.name`

const lastCopiesOf = (db: Database, groupId: string) => db.prisma.$queryRaw<LastCopy[]>`
  select y.name as "varietyName", min(t.code) as "treeCode"
    from limb b
    join tree t on t.group_id = b.group_id and t.id = b.tree_id and t.gone_on is null
    join variety y on y.group_id = b.group_id and y.id = b.variety_id
    where b.group_id = ${groupId}::uuid and b.gone_on is null
    group by y.id, y.name
    having count(*) = 1
    order by y.name`

function donorsOf(lots: readonly ReviewedLot[]) {
  const donors = new Map<string, { memberId: string; name: string; lots: number }>()
  for (const { keeperId, keeperName } of lots) {
    const known = donors.get(keeperId)
    donors.set(keeperId, { memberId: keeperId, name: keeperName, lots: (known?.lots ?? 0) + 1 })
  }
  // By name: people are thanked, never ranked.
  return [...donors.values()].sort((a, b) => a.name.localeCompare(b.name, 'en'))
}

/**
 * What a swap leaves to think about, which starts next year's call for wood. Four statements. Null without the right
 * to hand over, or when the group has no such swap.
 */
export async function reviewSwap(db: Database, actor: Actor, swapId: string): Promise<SwapReview | null> {
  if (!can(actor, 'hand-over')) return null
  const swap = await getSwap(db, actor, swapId)
  if (!swap) return null
  const { groupId } = actor
  const [lots, shortages, lastCopies] = await Promise.all([
    lotsOf(db, groupId, swapId),
    shortagesOf(db, groupId, swapId),
    lastCopiesOf(db, groupId),
  ])
  return {
    swap,
    shortages,
    neverClaimed: lots.filter(({ claims }) => claims === 0),
    unreconciled: lots.filter(({ inStore, promised }) => inStore + promised > 0),
    donors: donorsOf(lots),
    lastCopies,
  }
}
