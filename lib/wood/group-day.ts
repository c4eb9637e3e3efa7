import { type CivilDate, civilDateIn } from '#lib/kernel/civil-date.ts'
import type { Database, Queries } from '#lib/platform/database/database.ts'

/** The day that the wall of a group shows now, and its time zone. */
export async function groupDay(
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
