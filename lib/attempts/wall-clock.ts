import { type CivilDate, civilDateIn, instantIn } from '#lib/kernel/civil-date.ts'
import type { Database, Queries } from '#lib/platform/database/database.ts'

/** The wall clock of a group: its zone, and the day it shows. */
export interface WallClock {
  readonly timeZone: string
  readonly today: CivilDate
}

/** The zone that a group keeps time in, and what day it is there. */
export async function wallClock(tx: Queries, db: Database, groupId: string): Promise<WallClock> {
  const { timeZone } = await tx.orchardGroup.findUniqueOrThrow({
    where: { id: groupId },
    select: { timeZone: true },
  })
  return { timeZone, today: civilDateIn(timeZone, db.now()) }
}

/** The instant under which something of a day is entered in the ledger: noon, or now when noon is still to come. */
export function ledgerInstant(timeZone: string, day: CivilDate, now: Date): Date {
  const noon = instantIn(timeZone, day, 12)
  return noon < now ? noon : now
}
