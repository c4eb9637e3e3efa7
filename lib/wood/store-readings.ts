import type { Actor } from '#lib/access/actor.ts'
import { type CsvCell, writeCsv } from '#lib/formats/csv/write-csv.ts'
import { isUuid } from '#lib/kernel/id.ts'
import type { Database } from '#lib/platform/database/database.ts'
import type { ReadingBasis, StoreKind } from '#lib/platform/generated/enums.ts'
import { assumedCelsius } from '#lib/viability/assumed-celsius.ts'
import type { CelsiusRange } from '#lib/viability/scenarios.ts'
import type { ChartHour } from '#lib/wood/chart-hours.ts'

/** A logger's file in the list of a store's imports. */
export interface ImportView {
  readonly importId: string
  readonly fileName: string
  readonly readings: number
  readonly from: Date
  readonly to: Date
  readonly lowest: number
  readonly highest: number
  readonly importedBy: string
  readonly importedAt: Date
  readonly takenBack: { readonly by: string; readonly at: Date; readonly reason: string } | null
}

export interface StoreReadingsView {
  /** Of the last half year in which something was read, in the order of time. */
  readonly hours: readonly ChartHour[]
  /** All readings of the store, of whatever year. */
  readonly count: number
  /** What is reckoned with while nobody reads, °C, and whether somebody noted it. */
  readonly unread: { readonly celsius: CelsiusRange; readonly isNoted: boolean }
  /** The latest first. */
  readonly imports: readonly ImportView[]
}

const importsShown = 40

async function hoursOf(db: Database, groupId: string, storeId: string): Promise<ChartHour[]> {
  const rows = await db.prisma.$queryRaw<
    {
      readonly hour: Date
      readonly low: number
      readonly mean: number
      readonly high: number
      readonly is_logged: boolean
    }[]
  >`
    select date_trunc('hour', at) as hour, min(celsius)::float8 as low, avg(celsius)::float8 as mean,
        max(celsius)::float8 as high, bool_and(basis = 'logger') as is_logged
      from reading
      where group_id = ${groupId}::uuid and store_id = ${storeId}::uuid
        and at >= (select max(at) - interval '184 days' from reading
          where group_id = ${groupId}::uuid and store_id = ${storeId}::uuid)
      group by 1
      order by 1`
  return rows.map(({ hour, low, mean, high, is_logged }) => ({
    hourMs: hour.getTime(),
    low,
    mean,
    high,
    isLogged: is_logged,
  }))
}

async function importsOf(
  db: Database,
  where: { readonly groupId: string; readonly storeId: string; readonly id?: string },
): Promise<ImportView[]> {
  const rows = await db.prisma.readingImport.findMany({
    where,
    include: {
      importedBy: { select: { displayName: true } },
      takenBackBy: { select: { displayName: true } },
    },
    orderBy: { importedAt: 'desc' },
    take: importsShown,
  })
  return rows.map((row) => ({
    importId: row.id,
    fileName: row.fileName,
    readings: row.readingsWritten,
    from: row.firstAt,
    to: row.lastAt,
    lowest: row.lowest.toNumber(),
    highest: row.highest.toNumber(),
    importedBy: row.importedBy.displayName,
    importedAt: row.importedAt,
    takenBack:
      row.takenBackAt && row.takenBackBy
        ? { by: row.takenBackBy.displayName, at: row.takenBackAt, reason: row.takenBackReason ?? '' }
        : null,
  }))
}

/** What was read in a store, by the hour, and the files it came in. */
export async function storeReadings(
  db: Database,
  actor: Actor,
  store: {
    readonly storeId: string
    readonly kind: StoreKind
    readonly typedCelsius: number | null
  },
): Promise<StoreReadingsView> {
  const { groupId } = actor
  const { storeId, kind, typedCelsius } = store
  const [hours, count, imports] = await Promise.all([
    hoursOf(db, groupId, storeId),
    db.prisma.reading.count({ where: { groupId, storeId } }),
    importsOf(db, { groupId, storeId }),
  ])
  const unread = { celsius: assumedCelsius(kind, typedCelsius), isNoted: typedCelsius !== null }
  return { hours, count, unread, imports }
}

/** An import as the page that takes it back needs it; null when the store has no such import. */
export async function findImport(
  db: Database,
  actor: Actor,
  storeId: string,
  importId: string,
): Promise<ImportView | null> {
  if (!isUuid(storeId) || !isUuid(importId)) return null
  const [found] = await importsOf(db, { groupId: actor.groupId, storeId, id: importId })
  return found ?? null
}

/**
 * All readings of a store as comma-separated values, with instants in UTC so that the file can be brought back as it
 * is; null when the group has no such store.
 */
export async function readingsCsv(
  db: Database,
  actor: Actor,
  storeId: string,
): Promise<{ readonly storeName: string; readonly text: string } | null> {
  if (!isUuid(storeId)) return null
  const { groupId } = actor
  const store = await db.prisma.store.findUnique({
    where: { groupId_id: { groupId, id: storeId } },
    select: { name: true },
  })
  if (!store) return null
  const rows = await db.prisma.$queryRaw<
    {
      readonly at: Date
      readonly celsius: number
      readonly basis: ReadingBasis
      readonly taken_by: string | null
      readonly file_name: string | null
    }[]
  >`
    select r.at, r.celsius::float8 as celsius, r.basis::text as basis, m.display_name as taken_by, i.file_name
      from reading r
      left join member m on m.group_id = r.group_id and m.id = r.taken_by_id
      left join reading_import i on i.group_id = r.group_id and i.id = r.import_id
      where r.group_id = ${groupId}::uuid and r.store_id = ${storeId}::uuid
      order by r.at`
  const cells = rows.map(({ at, celsius, basis, taken_by, file_name }): CsvCell[] => [
    at.toISOString(),
    celsius,
    basis,
    taken_by,
    file_name,
  ])
  return { storeName: store.name, text: writeCsv(['time', 'temperature °C', 'basis', 'by', 'file'], cells) }
}
