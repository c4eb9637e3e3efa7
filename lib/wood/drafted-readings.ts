import { createHash } from 'node:crypto'
import type { Actor } from '#lib/access/actor.ts'
import { type LoggerFile, type LoggerReading, readLogger } from '#lib/formats/csv/read-logger.ts'
import type { RowFault } from '#lib/formats/csv/row-reader.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import { groupClock } from '#lib/people/group-day.ts'
import type { Database, Queries } from '#lib/platform/database/database.ts'
import { draftLivesMs } from '#lib/wood/draft-readings.ts'
import type { ImportAnswers } from '#lib/wood/import-input.ts'
import type { ImportRefusal } from '#lib/wood/import-refusals.ts'
import { mayKeepStore } from '#lib/wood/may-tend.ts'

export interface DraftName {
  readonly storeId: string
  readonly draftId: string
}

/** A file that waits for its import, and what an import would do. */
export interface DraftedReadings {
  readonly fileName: string
  readonly fileHash: string
  readonly file: LoggerFile
  /** What is not in the store yet: exactly what an import writes. */
  readonly fresh: readonly LoggerReading[]
  /** Readings that the store has already, with the same temperature. */
  readonly already: number
  /** What is wrong with the file, and what contradicts the store. */
  readonly faults: readonly RowFault[]
  /** A mark of the readings to be written. */
  readonly mark: string
}

interface StoredReading {
  readonly at: Date
  readonly celsius: number
}

/** The store's own readings of the time of a file, by instant. */
async function storedReadings(
  tx: Queries,
  groupId: string,
  storeId: string,
  readings: readonly LoggerReading[],
): Promise<ReadonlyMap<number, number>> {
  const [first, last] = [readings[0], readings.at(-1)]
  if (!first || !last) return new Map()
  const rows = await tx.$queryRaw<StoredReading[]>`
    select at, celsius::float8 as celsius from reading
      where group_id = ${groupId}::uuid and store_id = ${storeId}::uuid
        and at between ${first.at}::timestamptz and ${last.at}::timestamptz`
  return new Map(rows.map(({ at, celsius }) => [at.getTime(), celsius]))
}

const markOf = (readings: readonly LoggerReading[]): string => {
  const hash = createHash('sha256')
  for (const { at, celsius } of readings) hash.update(`${at.getTime()} ${celsius}\n`)
  return hash.digest('hex')
}

function against(file: LoggerFile, stored: ReadonlyMap<number, number>) {
  const fresh: LoggerReading[] = []
  const contradicting: RowFault[] = []
  let already = 0
  for (const reading of file.readings) {
    const known = stored.get(reading.at.getTime())
    if (known === undefined) fresh.push(reading)
    else if (known === reading.celsius) already++
    else {
      const why = `says ${reading.celsius} °C for a moment at which the store has ${known} °C`
      contradicting.push({ line: reading.line, column: file.timeHeading, why })
    }
  }
  const faults = [...file.faults, ...contradicting].sort((a, b) => a.line - b.line)
  return { fresh, already, faults }
}

/**
 * Reads a waiting file against what the store has. Preview and import both read it here, so that the one writes what
 * the other showed. Only whoever brought the file sees it.
 */
export async function draftedReadings(
  tx: Queries,
  db: Database,
  actor: Actor,
  { storeId, draftId }: DraftName,
  answers: ImportAnswers,
): Promise<Result<DraftedReadings, ImportRefusal>> {
  const { groupId, memberId } = actor
  const now = db.now()
  const draft = await tx.readingDraft.findFirst({
    where: {
      groupId,
      id: draftId,
      storeId,
      draftedById: memberId,
      draftedAt: { gte: new Date(now.getTime() - draftLivesMs) },
    },
    include: { store: { select: { keeperId: true } } },
  })
  if (!draft) return refuse({ kind: 'draft-gone' })
  if (!mayKeepStore(actor, draft.store.keeperId)) return refuse({ kind: 'not-your-store' })
  const { timeZone } = await groupClock(tx, db, groupId)
  const file = readLogger(draft.content, answers, { timeZone, now })
  if (!file.ok) return refuse({ kind: 'not-readable', why: file.refusal })
  const stored = await storedReadings(tx, groupId, storeId, file.value.readings)
  const found = against(file.value, stored)
  const fileHash = createHash('sha256').update(draft.content).digest('hex')
  return ok({ fileName: draft.fileName, fileHash, file: file.value, ...found, mark: markOf(found.fresh) })
}
