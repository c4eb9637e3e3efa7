import type { Actor } from '#lib/access/actor.ts'
import { mayActFor } from '#lib/access/policy.ts'
import { isUuid } from '#lib/kernel/id.ts'
import type { Database } from '#lib/platform/database/database.ts'
import type { WaitingView } from '#lib/swaps/view.ts'

/**
 * Where a member waits in a swap: open places in the order of asking, then offers that lapsed without an answer.
 * Nobody sees who else is in the line, only how many are before them.
 */
export async function waitingOf(
  db: Database,
  actor: Actor,
  swapId: string,
  memberId: string = actor.memberId,
): Promise<WaitingView[]> {
  if (!isUuid(swapId) || !isUuid(memberId) || !mayActFor(actor, memberId)) return []
  const now = db.now()
  return db.prisma.$queryRaw<WaitingView[]>`
    select q.id as "waitingId", q.offering_id as "offeringId", l.code, y.name as "varietyName",
        q.member_id as "memberId", m.display_name as "memberName", q.shares,
        o.sticks_per_share as "sticksPerShare",
        case when q.status = 'offered' and q.expires_at <= ${now}::timestamptz then 'expired' else q.status::text end as status,
        case when q.settled_at is not null then 0 else (select count(*)::int from waiting a
          where a.group_id = q.group_id and a.offering_id = q.offering_id and a.seq <= q.seq
            and a.status in ('waiting', 'offered')) end as place,
        q.offered_shares as "offeredShares", q.expires_at as "expiresAt"
      from waiting q
      join member m on m.group_id = q.group_id and m.id = q.member_id
      join offering o on o.group_id = q.group_id and o.id = q.offering_id
      join lot l on l.group_id = q.group_id and l.id = q.lot_id
      join limb b on b.group_id = l.group_id and b.id = l.limb_id
      left join variety y on y.group_id = b.group_id and y.id = b.variety_id
      where q.group_id = ${actor.groupId}::uuid and q.swap_id = ${swapId}::uuid and q.member_id = ${memberId}::uuid
        and q.status in ('waiting', 'offered', 'expired')
      order by q.settled_at is not null, q.status = 'waiting', q.seq`
}
