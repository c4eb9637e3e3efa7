import type { Queries } from '#lib/platform/database/database.ts'
import type { StayInStore } from '#lib/wood/stay-in-store.ts'

/** What was read in a store within half an hour of a full hour, °C: by a logger, or by somebody. */
export interface ReadingHour {
  readonly storeId: string
  /** The full hour (UTC), in milliseconds. */
  readonly hourMs: number
  readonly lowest: number
  readonly mean: number
  readonly highest: number
  readonly isLogged: boolean
}

/** By store, in the order of time. */
export type ReadingsByStore = ReadonlyMap<string, readonly ReadingHour[]>

const hourMs = 3_600_000

export function byStore(hours: readonly ReadingHour[]): ReadingsByStore {
  const stores = new Map<string, ReadingHour[]>()
  for (const hour of hours) {
    const earlier = stores.get(hour.storeId)
    if (earlier) earlier.push(hour)
    else stores.set(hour.storeId, [hour])
  }
  return stores
}

/**
 * What was read in the stores and the time that some stays cover, by the hour. An hour holds the same readings
 * whichever stays are asked for together. One statement.
 */
export async function readingHours(
  tx: Queries,
  groupId: string,
  stays: readonly StayInStore[],
): Promise<ReadingsByStore> {
  const storeIds = [...new Set(stays.map((stay) => stay.storeId))]
  if (storeIds.length === 0) return new Map()
  const firstMs = stays.reduce((first, { from }) => Math.min(first, from.getTime()), Infinity)
  const lastMs = stays.reduce((last, { to }) => Math.max(last, to?.getTime() ?? Infinity), -Infinity)
  const from = new Date((Math.floor(firstMs / hourMs) - 0.5) * hourMs)
  const before = lastMs === Infinity ? null : new Date((Math.ceil(lastMs / hourMs) + 0.5) * hourMs)
  const rows = await tx.$queryRaw<
    {
      readonly store_id: string
      readonly hour: Date
      readonly lowest: number
      readonly mean: number
      readonly highest: number
      readonly is_logged: boolean
    }[]
  >`
    select store_id, date_bin('1 hour', at + interval '30 minutes', timestamptz '2000-01-01 00:00:00Z') as hour,
        basis = 'logger' as is_logged, min(celsius)::float8 as lowest, avg(celsius)::float8 as mean,
        max(celsius)::float8 as highest
      from reading
      where group_id = ${groupId}::uuid and store_id = any(${storeIds}::uuid[]) and at >= ${from}::timestamptz
        and (${before}::timestamptz is null or at < ${before}::timestamptz)
      group by 1, 2, 3
      order by 2, 3`
  return byStore(
    rows.map((row) => ({
      storeId: row.store_id,
      hourMs: row.hour.getTime(),
      lowest: row.lowest,
      mean: row.mean,
      highest: row.highest,
      isLogged: row.is_logged,
    })),
  )
}
