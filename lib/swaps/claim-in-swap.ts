import type { Actor } from '#lib/access/actor.ts'
import type { Database } from '#lib/platform/database/database.ts'

/** Whose claim it is and how its swap stands; null when the group has no such claim. */
export async function claimInSwap(db: Database, actor: Actor, claimId: string) {
  const claim = await db.prisma.claim.findUnique({
    where: { groupId_id: { groupId: actor.groupId, id: claimId } },
    select: { memberId: true, swap: { select: { status: true } } },
  })
  return claim && { memberId: claim.memberId, isFinished: claim.swap.status === 'finished' }
}
