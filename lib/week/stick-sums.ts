import type { Actor } from '#lib/access/actor.ts'
import { utcMidnight } from '#lib/kernel/civil-date.ts'
import type { Database } from '#lib/platform/database/database.ts'
import type { Season } from '#lib/wood/season.ts'

/** Where the sticks of a season's lots are now. The parts come to `cut`: the ledger sees to it. */
export interface StickSums {
  readonly lots: number
  /** Counted on its own, from the account that everything is cut from. */
  readonly cut: number
  /** In a store, nobody's yet. */
  readonly free: number
  /** In a store, and given to nobody because of a hold. */
  readonly held: number
  readonly promised: number
  /** With the members who received them. */
  readonly withMembers: number
  /** Taken from the table without a name. */
  readonly walkedUp: number
  readonly inPost: number
  /** Grafted or struck. */
  readonly used: number
  readonly destroyed: number
  readonly lost: number
}

const nothing: StickSums = {
  lots: 0,
  cut: 0,
  free: 0,
  held: 0,
  promised: 0,
  withMembers: 0,
  walkedUp: 0,
  inPost: 0,
  used: 0,
  destroyed: 0,
  lost: 0,
}

/** Every stick of the lots cut in a season, by where it is. One statement. */
export async function stickSums(db: Database, actor: Actor, season: Season): Promise<StickSums> {
  const rows = await db.prisma.$queryRaw<StickSums[]>`
    with season_lot as (
      select l.id, exists (select from health_hold o where o.group_id = l.group_id and o.released_at is null
          and (o.lot_id = l.id or o.limb_id = l.limb_id)) as is_held
      from lot l
      where l.group_id = ${actor.groupId}::uuid
        and l.cut_on >= ${utcMidnight(season.from)}::date and l.cut_on < ${utcMidnight(season.before)}::date)
    select count(distinct l.id)::int as lots,
      coalesce(-sum(h.sticks) filter (where h.account = 'cut'), 0)::int as cut,
      coalesce(sum(h.sticks) filter (where h.account = 'store' and not l.is_held), 0)::int as free,
      coalesce(sum(h.sticks) filter (where h.account = 'store' and l.is_held), 0)::int as held,
      coalesce(sum(h.sticks) filter (where h.account = 'promised'), 0)::int as promised,
      coalesce(sum(h.sticks) filter (where h.member_id is not null), 0)::int as "withMembers",
      coalesce(sum(h.sticks) filter (where h.account = 'unnamed'), 0)::int as "walkedUp",
      coalesce(sum(h.sticks) filter (where h.account = 'parcel'), 0)::int as "inPost",
      coalesce(sum(h.sticks) filter (where h.account = 'used'), 0)::int as used,
      coalesce(sum(h.sticks) filter (where h.account = 'destroyed'), 0)::int as destroyed,
      coalesce(sum(h.sticks) filter (where h.account = 'lost'), 0)::int as lost
    from season_lot l
    join holding h on h.group_id = ${actor.groupId}::uuid and h.lot_id = l.id`
  return rows[0] ?? nothing
}
