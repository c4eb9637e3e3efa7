import type { Actor } from '#lib/access/actor.ts'
import { civilDateOf } from '#lib/kernel/civil-date.ts'
import { isUuid } from '#lib/kernel/id.ts'
import type { Database } from '#lib/platform/database/database.ts'
import type { Prisma } from '#lib/platform/generated/client.ts'
import type { AttemptHint } from '#lib/trees/view.ts'

function hintOf(
  attempt: Prisma.AttemptGetPayload<{ include: { variety: true; grower: true; hostTree: true } }>,
): AttemptHint {
  return {
    attemptId: attempt.id,
    varietyId: attempt.varietyId,
    varietyName: attempt.variety.name,
    method: attempt.method,
    madeOn: civilDateOf(attempt.madeOn),
    growerId: attempt.growerId,
    growerName: attempt.grower.displayName,
    hostTreeId: attempt.hostTreeId,
    hostTreeCode: attempt.hostTree?.code ?? null,
  }
}

/** A recorded graft or cutting, for making a limb of it; null when there is none or it was withdrawn. */
export async function attemptHint(
  db: Database,
  actor: Actor,
  attemptId: string,
): Promise<AttemptHint | null> {
  if (!isUuid(attemptId)) return null
  const attempt = await db.prisma.attempt.findFirst({
    where: { groupId: actor.groupId, id: attemptId, withdrawnAt: null },
    include: { variety: true, grower: true, hostTree: true },
  })
  return attempt && hintOf(attempt)
}

/**
 * Grafts on record as made on a tree, of which no limb is known yet: what a limb without a name may be.
 * The oldest first.
 */
export async function graftsWithoutLimb(db: Database, actor: Actor, treeId: string): Promise<AttemptHint[]> {
  if (!isUuid(treeId)) return []
  const attempts = await db.prisma.attempt.findMany({
    where: { groupId: actor.groupId, hostTreeId: treeId, withdrawnAt: null, limbs: { none: {} } },
    include: { variety: true, grower: true, hostTree: true },
    orderBy: [{ madeOn: 'asc' }, { id: 'asc' }],
  })
  return attempts.map(hintOf)
}
