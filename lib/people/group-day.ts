import type { Actor } from '#lib/access/actor.ts'
import { type CivilDate, civilDateIn } from '#lib/kernel/civil-date.ts'
import type { Database, Queries } from '#lib/platform/database/database.ts'

/** The day that the clock on the group's wall shows. */
export async function groupDay(tx: Queries, db: Database, actor: Pick<Actor, 'groupId'>): Promise<CivilDate> {
  const { timeZone } = await tx.orchardGroup.findUniqueOrThrow({
    where: { id: actor.groupId },
    select: { timeZone: true },
  })
  return civilDateIn(timeZone, db.now())
}
