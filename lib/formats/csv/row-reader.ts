import type { Header } from '#lib/formats/csv/match-header.ts'
import { type DayOrder, readDay } from '#lib/formats/csv/read-day.ts'
import type { TableRow } from '#lib/formats/csv/read-table.ts'
import type { CivilDate } from '#lib/kernel/civil-date.ts'

/** What is wrong with a row: its line in the file, the column as the file heads it, and why. */
export interface RowFault {
  readonly line: number
  /** Null when the row itself is at fault. */
  readonly column: string | null
  readonly why: string
}

/** A day that could be read two ways. It stops the whole file: leaving such rows out would be a guess too. */
export interface DayInDoubt {
  readonly line: number
  readonly column: string
  readonly text: string
  readonly readings: readonly [CivilDate, CivilDate]
}

/** Reads the cells of one row and keeps what is wrong with them. */
export interface RowReader {
  readonly line: number
  readonly faults: readonly RowFault[]
  readonly doubts: readonly DayInDoubt[]
  /** A cell; '' when it is empty or the file has no such column. */
  text(key: string, longest?: number): string
  /** A cell that must be filled. */
  filled(key: string, longest?: number): string
  /** A whole number; null when the cell is empty or no such number. */
  count(key: string, least: number, most: number): number | null
  /** A day; null when the cell is empty or no day. */
  day(key: string): CivilDate | null
  /** One of a list of words; the default when the cell is empty. */
  oneOf<Word extends string>(key: string, words: readonly Word[], ifEmpty: Word): Word
  fault(key: string | null, why: string): void
}

const wordsOf = (text: string) => text.toLowerCase().replace(/[\s_-]+/g, '_')

/** Makes the reader of one row. */
export function rowReader(row: TableRow, header: Header, order: DayOrder): RowReader {
  const faults: RowFault[] = []
  const doubts: DayInDoubt[] = []
  const columnOf = (key: string) => header.columns.find((column) => column.key === key)
  const cell = (key: string) => row.cells[columnOf(key)?.at ?? -1] ?? ''
  const fault = (key: string | null, why: string) => {
    const column = key === null ? null : (columnOf(key)?.heading ?? key)
    const isSaid = faults.some((said) => said.column === column && said.why === why)
    if (!isSaid) faults.push({ line: row.line, column, why })
  }
  if (row.cells.slice(header.width).some((text) => text !== '')) {
    fault(null, `has ${row.cells.length} cells, the heading ${header.width}: is a comma missing its quotes?`)
  }
  const text = (key: string, longest = 200) => {
    const value = cell(key)
    if (value.length > longest) fault(key, `is longer than ${longest} characters`)
    return value
  }
  return {
    line: row.line,
    faults,
    doubts,
    text,
    fault,
    filled(key, longest) {
      const value = text(key, longest)
      if (value === '') fault(key, 'is empty')
      return value
    },
    count(key, least, most) {
      const value = cell(key)
      if (value === '') return null
      const number = /^\d{1,9}$/.test(value) ? Number(value) : Number.NaN
      if (number >= least && number <= most) return number
      fault(key, `“${value}” is not a whole number from ${least} to ${most}`)
      return null
    },
    day(key) {
      const value = cell(key)
      if (value === '') return null
      const found = readDay(value, order)
      if (found.kind === 'day') return found.day
      if (found.kind === 'no-day') {
        fault(key, `“${value}” is not a day; write it as 2026-03-14 or 14 March 2026`)
      } else {
        const column = columnOf(key)?.heading ?? key
        doubts.push({ line: row.line, column, text: value, readings: found.readings })
      }
      return null
    },
    oneOf(key, words, ifEmpty) {
      const value = cell(key)
      if (value === '') return ifEmpty
      const found = words.find((word) => wordsOf(word) === wordsOf(value))
      if (!found)
        fault(key, `“${value}” is none of: ${words.map((word) => word.replaceAll('_', ' ')).join(', ')}`)
      return found ?? ifEmpty
    },
  }
}
