import { type CivilDate, civilDateIn, civilDateOf } from '#lib/kernel/civil-date.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { seasonStartYear } from '#lib/wood/season.ts'

/** What a page about wood has to know of its group. */
export interface GroupYear {
  readonly timeZone: string
  readonly today: CivilDate
  /** The day of the next swap that is not finished. */
  readonly swapDay: CivilDate | null
  /** Years in which seasons with wood began, the latest first; the present one is always among them. */
  readonly seasons: readonly number[]
}

/** The group's time zone, its next swap and the seasons it has wood of. One statement. */
export async function groupYear(db: Database, groupId: string): Promise<GroupYear> {
  const now = db.now()
  const rows = await db.prisma.$queryRaw<
    {
      readonly time_zone: string
      readonly swap_day: Date | null
      readonly first_cut: Date | null
      readonly last_cut: Date | null
    }[]
  >`
    select g.time_zone,
        (select min(s.held_on) from swap s where s.group_id = g.id and s.status <> 'finished'
          and s.held_on >= (${now}::timestamptz at time zone g.time_zone)::date) as swap_day,
        (select min(l.cut_on) from lot l where l.group_id = g.id) as first_cut,
        (select max(l.cut_on) from lot l where l.group_id = g.id) as last_cut
      from orchard_group g where g.id = ${groupId}::uuid`
  const row = rows[0]
  if (!row) throw new Error('The group of an actor is missing')
  const today = civilDateIn(row.time_zone, now)
  const present = seasonStartYear(today)
  const first = row.first_cut ? Math.min(present, seasonStartYear(civilDateOf(row.first_cut))) : present
  const last = row.last_cut ? Math.max(present, seasonStartYear(civilDateOf(row.last_cut))) : present
  return {
    timeZone: row.time_zone,
    today,
    swapDay: row.swap_day ? civilDateOf(row.swap_day) : null,
    seasons: Array.from({ length: last - first + 1 }, (_, years) => last - years),
  }
}
