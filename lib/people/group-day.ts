import type { Actor } from '#lib/access/actor.ts'
import { type CivilDate, civilDateIn } from '#lib/kernel/civil-date.ts'
import type { Database, Queries } from '#lib/platform/database/database.ts'

/** The time zone of a group, and the day that the clock on its wall shows now. */
export async function groupClock(
  tx: Queries,
  db: Database,
  groupId: string,
): Promise<{ readonly timeZone: string; readonly today: CivilDate }> {
  const { timeZone } = await tx.orchardGroup.findUniqueOrThrow({
    where: { id: groupId },
    select: { timeZone: true },
  })
  return { timeZone, today: civilDateIn(timeZone, db.now()) }
}

/** The day that the clock on the group's wall shows. */
export async function groupDay(tx: Queries, db: Database, actor: Pick<Actor, 'groupId'>): Promise<CivilDate> {
  return (await groupClock(tx, db, actor.groupId)).today
}
