import { CsvError, parse } from 'csv-parse/sync'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'

/** A line of a spreadsheet: its number in the file, counted from 1, and its cells without outer spaces. */
export interface TableRow {
  readonly line: number
  readonly cells: readonly string[]
}

export interface Table {
  readonly heading: TableRow
  /** Without the empty ones. */
  readonly rows: readonly TableRow[]
  readonly separator: ',' | ';' | '\t'
  /** How the bytes were read. `windows-1252` is a guess, made where they are no UTF-8. */
  readonly encoding: 'utf-8' | 'utf-16' | 'windows-1252'
}

/** Why a file is no table. */
export type TableRefusal =
  | { readonly kind: 'empty-file' }
  | { readonly kind: 'not-a-table'; readonly line: number; readonly why: string }

const separators = [',', ';', '\t'] as const

/** The text of a file, and how its bytes were read. */
export function decode(bytes: Uint8Array): { readonly text: string; readonly encoding: Table['encoding'] } {
  const [first, second] = bytes
  if (first === 0xff && second === 0xfe) {
    return { text: new TextDecoder('utf-16le').decode(bytes), encoding: 'utf-16' }
  }
  try {
    return { text: new TextDecoder('utf-8', { fatal: true }).decode(bytes), encoding: 'utf-8' }
  } catch (error) {
    if (!(error instanceof TypeError)) throw error
    return { text: new TextDecoder('windows-1252').decode(bytes), encoding: 'windows-1252' }
  }
}

/** The separator that occurs most often in the first line outside quotes; a comma when none does. */
function separatorOf(text: string): Table['separator'] {
  const firstLine = text.trimStart().split('\n', 1)[0] ?? ''
  const bare = firstLine.replace(/"[^"]*"/g, '')
  const counts = separators.map((separator) => ({ separator, count: bare.split(separator).length - 1 }))
  return counts.reduce((best, next) => (next.count > best.count ? next : best)).separator
}

const isFilled = ({ cells }: TableRow) => cells.some((cell) => cell !== '')

/** The lines of a text with one kind of line end. A cell can hold line ends, so a row may be several lines long. */
function rowsOf(text: string, separator: string): readonly TableRow[] {
  const rows: TableRow[] = []
  let line = 1
  parse(text, {
    delimiter: separator,
    relax_column_count: true,
    on_record: (record: readonly string[], { lines }) => {
      rows.push({ line, cells: record.map((cell) => cell.trim()) })
      line = lines + 1
      return null
    },
  })
  return rows.filter(isFilled)
}

/**
 * Reads a table as spreadsheets save it: separated by commas, semicolons or tabs, with or without a byte order
 * mark, in UTF-8, UTF-16 or Windows-1252. Its first filled line is the heading.
 */
export function readTable(bytes: Uint8Array): Result<Table, TableRefusal> {
  const { text: decoded, encoding } = decode(bytes)
  const text = decoded.replace(/\r\n?/g, '\n')
  const separator = separatorOf(text)
  try {
    const [heading, ...rows] = rowsOf(text, separator)
    return heading ? ok({ heading, rows, separator, encoding }) : refuse({ kind: 'empty-file' })
  } catch (error) {
    if (!(error instanceof CsvError)) throw error
    return refuse({ kind: 'not-a-table', line: Number(error['lines'] ?? 1), why: error.message })
  }
}
