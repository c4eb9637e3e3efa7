import { civilDateIn } from '#lib/kernel/civil-date.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { windowState } from '#lib/viability/window-state.ts'
import { projectMissing } from '#lib/wood/project-windows.ts'
import { windowModel } from '#lib/wood/window-model.ts'
import type { KeptWindow, NoWindow } from '#lib/wood/window-of-lot.ts'

/** A window as the database keeps it. */
export interface StoredWindowRow {
  readonly early_at: Date | null
  readonly likely_at: Date | null
  readonly late_at: Date | null
  readonly limited_by: KeptWindow['limitedBy'] | null
  readonly no_window: NoWindow['why'] | null
  readonly flags: KeptWindow['flags'] | null
}

/** A stored window on the calendar of its group, and where its lot stands in it now. */
export function toWindow(row: StoredWindowRow, timeZone: string, now: Date): KeptWindow | NoWindow {
  const { early_at, likely_at, late_at, limited_by, flags } = row
  if (!early_at || !likely_at || !late_at || !limited_by) {
    return { kind: 'none', why: row.no_window ?? 'not-a-date' }
  }
  const day = (at: Date) => civilDateIn(timeZone, at)
  const days = { early: day(early_at), likely: day(likely_at), late: day(late_at) }
  return {
    kind: 'window',
    ...days,
    limitedBy: limited_by,
    state: windowState(days, day(now)),
    flags: flags ?? [],
  }
}

const read = (db: Database, groupId: string, lotIds: readonly string[]) =>
  db.prisma.$queryRaw<(StoredWindowRow & { readonly lot_id: string })[]>`
    select lot_id, early_at, likely_at, late_at, limited_by, no_window, flags
      from window_projection
      where group_id = ${groupId}::uuid and lot_id = any(${[...lotIds]}::uuid[]) and model = ${windowModel()}::text`

/** How long some lots of a group keep, by lot id, as it is stored. Every lot that was asked for is there. One statement. */
export async function storedWindows(
  db: Database,
  groupId: string,
  timeZone: string,
  lotIds: readonly string[],
): Promise<ReadonlyMap<string, KeptWindow | NoWindow>> {
  if (lotIds.length === 0) return new Map()
  let rows = await read(db, groupId, lotIds)
  if (rows.length < new Set(lotIds).size && (await projectMissing(db, groupId)) > 0) {
    rows = await read(db, groupId, lotIds)
  }
  const now = db.now()
  return new Map(rows.map((row) => [row.lot_id, toWindow(row, timeZone, now)]))
}
