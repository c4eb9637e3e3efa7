import { cultivarSearchKey } from '#lib/grafting/cultivar-name.ts'
import { civilDateOf } from '#lib/kernel/civil-date.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { Prisma } from '#lib/platform/generated/client.ts'
import type { IdentityBasis, LotKind, NameCertainty } from '#lib/platform/generated/enums.ts'
import { sharesLeft } from '#lib/swaps/share-sizes.ts'
import type { OfferedRow } from '#lib/swaps/view.ts'

interface Row {
  readonly offeringId: string
  readonly lotId: string
  readonly code: string
  readonly kind: LotKind
  readonly cutOn: Date
  readonly varietyId: string | null
  readonly varietyName: string | null
  readonly varietyNote: string | null
  readonly nameCertainty: NameCertainty | null
  readonly taxonKey: string | null
  readonly commonName: string | null
  readonly identity: IdentityBasis
  readonly seenInLeafOn: Date | null
  readonly healthNote: string | null
  readonly isHeld: boolean
  readonly note: string | null
  readonly sticksPerShare: number
  readonly shares: number
  readonly sharesClaimed: number
  readonly sharesReserved: number
  readonly waiting: number
  readonly sticksInStore: number
  readonly sticksPromised: number
  readonly sticksHandedOver: number
  readonly storageProfile: string | null
  readonly timeZone: string
}

export interface CatalogueFilter {
  readonly search?: string | undefined
  readonly offeringId?: string | undefined
}

const everything = Prisma.sql`true`

/** A name, a synonym, a crop or a lot code, whatever the accents, case and hyphens. */
function searched(search: string | undefined): Prisma.Sql {
  const key = cultivarSearchKey(search ?? '')
  if (key === '') return everything
  const like = `%${key}%`
  return Prisma.sql`(y.name_key like ${like} or lower(t.common_name) like ${like} or l.code = upper(${key})
    or exists (select 1 from variety_synonym s
      where s.group_id = y.group_id and s.variety_id = y.id and s.name_key like ${like}))`
}

/** The lots on offer in a swap, by crop and name. One statement, however many there are. */
export async function catalogueRows(
  db: Database,
  groupId: string,
  swapId: string,
  filter: CatalogueFilter = {},
): Promise<OfferedRow[]> {
  const one = filter.offeringId === undefined ? everything : Prisma.sql`o.id = ${filter.offeringId}::uuid`
  const rows = await db.prisma.$queryRaw<Row[]>`
    select o.id as "offeringId", o.lot_id as "lotId", l.code, l.kind, l.cut_on as "cutOn",
        y.id as "varietyId", y.name as "varietyName", y.note as "varietyNote", y.name_certainty as "nameCertainty",
        t.key as "taxonKey", t.common_name as "commonName", t.storage_profile as "storageProfile",
        g.time_zone as "timeZone",
        b.identity, b.seen_in_leaf_on as "seenInLeafOn", b.health_note as "healthNote",
        exists (select 1 from health_hold h where h.group_id = l.group_id and h.released_at is null
          and (h.lot_id = l.id or h.limb_id = l.limb_id)) as "isHeld",
        o.note, o.sticks_per_share as "sticksPerShare", o.shares, o.shares_claimed as "sharesClaimed",
        o.shares_reserved as "sharesReserved",
        (select count(*)::int from waiting q where q.group_id = o.group_id and q.offering_id = o.id
          and q.status in ('waiting', 'offered')) as waiting,
        coalesce(store.sticks, 0) as "sticksInStore",
        coalesce(c.promised, 0) as "sticksPromised", coalesce(c.handed, 0) as "sticksHandedOver"
      from offering o
      join orchard_group g on g.id = o.group_id
      join lot l on l.group_id = o.group_id and l.id = o.lot_id
      join limb b on b.group_id = l.group_id and b.id = l.limb_id
      left join variety y on y.group_id = b.group_id and y.id = b.variety_id
      left join taxon t on t.key = y.taxon_key
      left join holding store on store.group_id = l.group_id and store.lot_id = l.id and store.account = 'store'
      left join lateral (
        select sum(k.sticks) filter (where k.status = 'promised')::int as promised,
            sum(k.sticks) filter (where k.status = 'handed_over')::int as handed
          from claim k where k.group_id = o.group_id and k.offering_id = o.id) c on true
      where o.group_id = ${groupId}::uuid and o.swap_id = ${swapId}::uuid and o.withdrawn_at is null
        and ${one} and ${searched(filter.search)}
      order by lower(t.common_name) nulls last, t.key, y.name_key, l.code`
  return rows.map((row) => ({
    ...row,
    cutOn: civilDateOf(row.cutOn),
    seenInLeafOn: row.seenInLeafOn && civilDateOf(row.seenInLeafOn),
    sharesLeft: sharesLeft(row),
  }))
}
