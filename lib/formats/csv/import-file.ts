import type { Actor } from '#lib/access/actor.ts'
import { can, type NotAllowed, notAllowed } from '#lib/access/policy.ts'
import { type ImportKind, importColumns } from '#lib/formats/csv/columns.ts'
import { type Header, type HeaderRefusal, matchHeader } from '#lib/formats/csv/match-header.ts'
import type { DayOrder } from '#lib/formats/csv/read-day.ts'
import { readTable, type Table, type TableRefusal } from '#lib/formats/csv/read-table.ts'
import { entryKeys, hashKey } from '#lib/formats/csv/row-keys.ts'
import { type DayInDoubt, type RowFault, type RowReader, rowReader } from '#lib/formats/csv/row-reader.ts'
import { type CivilDate, civilDateIn } from '#lib/kernel/civil-date.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import { writeAudit } from '#lib/people/write-audit.ts'
import type { Database, Queries } from '#lib/platform/database/database.ts'

export interface ImportFile {
  readonly name: string
  readonly bytes: Uint8Array
}

export interface ImportOptions {
  readonly dates: DayOrder
  /** Write the good rows and name the others; otherwise one bad row keeps everything out. */
  readonly skipBad: boolean
  /** Do everything, and take it back at the end. */
  readonly dryRun: boolean
  /** Add varieties that the group does not have; the row must name the crop. */
  readonly createVarieties: boolean
}

export interface ImportReport {
  /** Filled rows below the heading. */
  readonly rows: number
  /** Entries written: batches, people, trees or lots. */
  readonly written: number
  readonly leftOut: readonly RowFault[]
  /** Headings that no column answers to. */
  readonly unread: readonly string[]
  readonly encoding: Table['encoding']
  /** Sentences about what else was done, such as the codes that were given. */
  readonly remarks: readonly string[]
}

export type ImportRefusal =
  | NotAllowed
  | TableRefusal
  | HeaderRefusal
  | {
      readonly kind: 'same-file'
      readonly file: string
      readonly on: CivilDate
      readonly written: number
    }
  | { readonly kind: 'no-rows' }
  | { readonly kind: 'days-in-doubt'; readonly doubts: readonly DayInDoubt[] }
  | { readonly kind: 'bad-rows'; readonly faults: readonly RowFault[]; readonly good: number }

/** What the rows of one entry say, for an importer to write. */
export interface Entry<Value> {
  /** The lines of the file that it is made of. */
  readonly lines: readonly number[]
  readonly value: Value
}

export interface KeyedEntry<Value> extends Entry<Value> {
  /** Comes from what the rows say, so that the same entry has it again. */
  readonly key: string
}

export interface ImportContext {
  readonly tx: Queries
  readonly db: Database
  readonly actor: Actor
  readonly options: ImportOptions
  readonly today: CivilDate
}

export interface Written {
  readonly written: number
  /** Entries that a command refused; each was taken back by itself. */
  readonly faults: readonly RowFault[]
  readonly remarks: readonly string[]
}

/** One kind of import: how rows become entries, and how entries are written. Every entry leaves its key behind. */
export interface Importer<Value> {
  readonly kind: ImportKind
  /** Reads the rows, notes what is wrong at their readers, and gives the entries of rows without a fault. */
  read(context: ImportContext, rows: readonly RowReader[]): Promise<readonly Entry<Value>[]>
  write(context: ImportContext, entries: readonly KeyedEntry<Value>[]): Promise<Written>
}

/** A big file may take its time. */
const longestMs = 900_000
const keysAtOnce = 5_000

/** Takes everything back and carries the answer out of the transaction. */
class TakenBack extends Error {
  constructor(readonly answer: Result<ImportReport, ImportRefusal>) {
    super('taken back')
  }
}

/** Which of these keys were left behind by an earlier import. */
async function knownKeys(
  tx: Queries,
  groupId: string,
  keys: readonly string[],
): Promise<ReadonlySet<string>> {
  const known = new Set<string>()
  for (let at = 0; at < keys.length; at += keysAtOnce) {
    const found = await tx.idempotencyKey.findMany({
      where: { groupId, key: { in: keys.slice(at, at + keysAtOnce) } },
      select: { key: true },
    })
    for (const { key } of found) known.add(key)
  }
  return known
}

/** The same file again, under whatever name. */
async function earlierImport(
  { tx, actor }: ImportContext,
  key: string,
  timeZone: string,
): Promise<ImportRefusal | null> {
  await tx.$executeRaw`select pg_advisory_xact_lock(hashtextextended(${`${actor.groupId}:${key}`}, 0))`
  const earlier = await tx.idempotencyKey.findUnique({
    where: { groupId_key: { groupId: actor.groupId, key } },
  })
  if (!earlier) return null
  const answer = earlier.answer as { readonly file: string; readonly written: number }
  const on = civilDateIn(timeZone, earlier.createdAt)
  return { kind: 'same-file', file: answer.file, on, written: answer.written }
}

const byLine = (a: RowFault, b: RowFault) => a.line - b.line

/** What an entry says, cell by cell, in an order that does not depend on that of the file's columns. */
function saidBy(lines: readonly number[], table: Table, header: Header): readonly string[] {
  const columns = [...header.columns].sort((a, b) => (a.key < b.key ? -1 : 1))
  return lines.flatMap((line) => {
    const row = table.rows.find((candidate) => candidate.line === line)
    return columns.map(({ key, at }) => `${key}=${row?.cells[at] ?? ''}`)
  })
}

async function importRows<Value>(
  context: ImportContext,
  importer: Importer<Value>,
  table: Table,
  header: Header,
): Promise<Result<ImportReport, ImportRefusal>> {
  const { options } = context
  const readers = table.rows.map((row) => rowReader(row, header, options.dates))
  const entries = await importer.read(context, readers)
  const doubts = readers.flatMap((reader) => reader.doubts)
  if (doubts.length > 0) return refuse({ kind: 'days-in-doubt', doubts })
  const rowAt = new Map(table.rows.map((row) => [row.line, row]))
  const said = entries.map(({ lines }) =>
    saidBy(lines, { ...table, rows: lines.flatMap((line) => rowAt.get(line) ?? []) }, header),
  )
  const keys = entryKeys(importer.kind, said)
  const known = await knownKeys(context.tx, context.actor.groupId, keys)
  const keyed = entries.map((entry, i) => ({ ...entry, key: keys[i] ?? '' }))
  const repeated = keyed
    .filter(({ key }) => known.has(key))
    .flatMap(({ lines }) =>
      lines.map((line) => ({ line, column: null, why: 'was imported before, word for word' })),
    )
  const fresh = keyed.filter(({ key }) => !known.has(key))
  const faults = [...readers.flatMap((reader) => reader.faults), ...repeated].sort(byLine)
  if (faults.length > 0 && !(options.skipBad && fresh.length > 0)) {
    return refuse({ kind: 'bad-rows', faults, good: fresh.length })
  }
  const done = await importer.write(context, fresh)
  const leftOut = [...faults, ...done.faults].sort(byLine)
  if (done.faults.length > 0 && !(options.skipBad && done.written > 0)) {
    return refuse({ kind: 'bad-rows', faults: leftOut, good: done.written })
  }
  return ok({
    rows: table.rows.length,
    written: done.written,
    leftOut,
    unread: header.unread,
    encoding: table.encoding,
    remarks: done.remarks,
  })
}

async function noteImport(
  { tx, db, actor }: ImportContext,
  kind: ImportKind,
  file: ImportFile,
  key: string,
  report: ImportReport,
): Promise<void> {
  const { written, rows } = report
  await tx.idempotencyKey.create({
    data: {
      groupId: actor.groupId,
      key,
      command: `import-${kind}`,
      inputHash: key,
      answer: { file: file.name, written },
      createdAt: db.now(),
    },
  })
  await writeAudit(tx, db, actor, {
    action: `import-${kind}`,
    subject: `file:${file.name}`,
    detail: { rows, written },
  })
}

/**
 * Brings a spreadsheet into a group, in one transaction: all of it, or with `skipBad` its good rows, or nothing.
 * The same file is refused the second time, and a row that an earlier file brought counts as bad.
 */
export async function importFile<Value>(
  db: Database,
  actor: Actor,
  file: ImportFile,
  options: ImportOptions,
  importer: Importer<Value>,
): Promise<Result<ImportReport, ImportRefusal>> {
  if (!can(actor, 'import-data')) return refuse(notAllowed('import-data'))
  const { kind } = importer
  const table = readTable(file.bytes)
  if (!table.ok) return table
  const header = matchHeader(table.value.heading, importColumns[kind])
  if (!header.ok) return header
  if (table.value.rows.length === 0) return refuse({ kind: 'no-rows' })
  const fileKey = hashKey(['import-file', kind, file.bytes])
  const work = async (tx: Queries) => {
    const { timeZone } = await tx.orchardGroup.findUniqueOrThrow({ where: { id: actor.groupId } })
    const context = { tx, db, actor, options, today: civilDateIn(timeZone, db.now()) }
    const earlier = await earlierImport(context, fileKey, timeZone)
    if (earlier) throw new TakenBack(refuse(earlier))
    const result = await importRows(context, importer, table.value, header.value)
    if (!result.ok) throw new TakenBack(result)
    await noteImport(context, kind, file, fileKey, result.value)
    if (options.dryRun) throw new TakenBack(result)
    return result
  }
  try {
    return await db.prisma.$transaction(work, { timeout: longestMs })
  } catch (error) {
    if (error instanceof TakenBack) return error.answer
    throw error
  }
}
