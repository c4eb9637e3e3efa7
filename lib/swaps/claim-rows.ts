import type { Database } from '#lib/platform/database/database.ts'
import { Prisma } from '#lib/platform/generated/client.ts'
import type { ClaimView } from '#lib/swaps/view.ts'

/** The claims of a swap, of one member or of all, oldest first. Given-back ones come along with their reason. */
export async function claimRows(
  db: Database,
  groupId: string,
  swapId: string,
  memberId?: string,
): Promise<ClaimView[]> {
  const whose = memberId === undefined ? Prisma.sql`true` : Prisma.sql`k.member_id = ${memberId}::uuid`
  return db.prisma.$queryRaw<ClaimView[]>`
    select k.id as "claimId", k.offering_id as "offeringId", k.lot_id as "lotId", l.code,
        k.variety_id as "varietyId", y.name as "varietyName", t.key as "taxonKey", t.common_name as "commonName",
        k.member_id as "memberId", m.display_name as "memberName",
        k.shares, k.sticks, k.status, k.purpose, k.made_at as "madeAt", k.settled_at as "settledAt",
        case when k.status = 'cancelled' then (
          select v.reason from move v where v.group_id = k.group_id and v.claim_id = k.id and v.kind = 'release'
            order by v.seq desc limit 1) end as "givenBackBecause",
        exists (select 1 from health_hold h where h.group_id = l.group_id and h.released_at is null
          and (h.lot_id = l.id or h.limb_id = l.limb_id)) as "isHeld",
        o.note
      from claim k
      join member m on m.group_id = k.group_id and m.id = k.member_id
      join offering o on o.group_id = k.group_id and o.id = k.offering_id
      join lot l on l.group_id = k.group_id and l.id = k.lot_id
      join limb b on b.group_id = l.group_id and b.id = l.limb_id
      left join variety y on y.group_id = b.group_id and y.id = b.variety_id
      left join taxon t on t.key = y.taxon_key
      where k.group_id = ${groupId}::uuid and k.swap_id = ${swapId}::uuid and ${whose}
      order by k.made_at, k.id`
}
