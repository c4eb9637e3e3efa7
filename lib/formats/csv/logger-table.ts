import { CsvError, parse } from 'csv-parse/sync'
import { type LoggerColumns, loggerColumns } from '#lib/formats/csv/logger-columns.ts'
import { decode, type TableRefusal, type TableRow } from '#lib/formats/csv/read-table.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'

/** A logger's file as a table. Many loggers write some lines about themselves before the heading. */
export interface LoggerTable {
  /** What stands before the heading. */
  readonly preamble: readonly TableRow[]
  readonly heading: TableRow
  /** Without the empty ones. */
  readonly rows: readonly TableRow[]
  readonly columns: LoggerColumns
}

const separators = [',', ';', '\t'] as const
/** The heading is looked for in so many lines. */
const linesLookedAt = 60

const isFilled = ({ cells }: TableRow) => cells.some((cell) => cell !== '')

/** A cell can hold line ends, so a row may be several lines long. */
function rowsOf(text: string, delimiter: string): TableRow[] {
  const rows: TableRow[] = []
  let line = 1
  parse(text, {
    delimiter,
    relax_column_count: true,
    relax_quotes: true,
    on_record: (record: readonly string[], { lines }) => {
      rows.push({ line, cells: record.map((cell) => cell.normalize('NFKC').trim()) })
      line = lines + 1
      return null
    },
  })
  return rows.filter(isFilled)
}

const widthOf = ({ cells }: TableRow) => cells.filter((cell) => cell !== '').length

/** How sure one can be that a row is the heading: both columns known, both guessable, or only the widest. */
function score(row: TableRow): number {
  const { time, temperatures } = loggerColumns(row)
  return (time.length > 0 ? 2 : 0) + (temperatures.length > 0 ? 2 : 0)
}

interface Found {
  readonly rows: readonly TableRow[]
  readonly at: number
  readonly score: number
  readonly width: number
}

/** The likeliest heading with one separator: what is read as time and temperature, else the first row as wide as most. */
function headingIn(rows: readonly TableRow[]): Found | null {
  const first = rows.slice(0, linesLookedAt)
  if (first.length === 0) return null
  const scores = first.map(score)
  const best = Math.max(...scores)
  const widest = Math.max(...first.map(widthOf))
  const at = best === 4 ? scores.indexOf(best) : first.findIndex((row) => widthOf(row) === widest)
  return { rows, at, score: best, width: widest }
}

/** Reads a logger's file as a table: the separator and the heading are those that make most sense together. */
export function readLoggerTable(bytes: Uint8Array): Result<LoggerTable, TableRefusal> {
  const text = decode(bytes)
    .text.replace(/^\uFEFF/, '')
    .replace(/\r\n?/g, '\n')
  const head = text.split('\n', linesLookedAt).join('\n')
  try {
    const found = separators
      .map((separator) => ({ separator, ...headingIn(rowsOf(head, separator)) }))
      .sort((a, b) => (b.score ?? 0) - (a.score ?? 0) || (b.width ?? 0) - (a.width ?? 0))[0]
    if (found?.at === undefined) return refuse({ kind: 'empty-file' })
    const rows = rowsOf(text, found.separator)
    const heading = rows[found.at]
    if (!heading) return refuse({ kind: 'empty-file' })
    return ok({
      preamble: rows.slice(0, found.at),
      heading,
      rows: rows.slice(found.at + 1),
      columns: loggerColumns(heading),
    })
  } catch (error) {
    if (!(error instanceof CsvError)) throw error
    return refuse({ kind: 'not-a-table', line: Number(error['lines'] ?? 1), why: error.message })
  }
}
