import type { TemperatureUnitSaid } from '#lib/formats/csv/logger-columns.ts'
import { unitIn } from '#lib/formats/csv/logger-columns.ts'
import type { LoggerTable } from '#lib/formats/csv/logger-table.ts'
import { type CelsiusRead, readCelsius } from '#lib/formats/csv/read-celsius.ts'
import type { DayOrder } from '#lib/formats/csv/read-day.ts'
import { readMoment } from '#lib/formats/csv/read-moment.ts'
import type { TableRow } from '#lib/formats/csv/read-table.ts'
import type { RowMoment } from '#lib/formats/csv/reckon-readings.ts'
import type { RowFault } from '#lib/formats/csv/row-reader.ts'

/** Where a logger's rows have their moment, in one cell or two, and their temperature. */
export interface ReadColumns {
  readonly time: readonly number[]
  readonly temperature: number
}

/** What holds for all rows of a file; null where it is not known. */
export interface RowsAs {
  readonly unit: TemperatureUnitSaid | null
  readonly days: DayOrder
}

/** The cells of a moment as one text. */
export const momentText = ({ cells }: TableRow, { time }: ReadColumns): string =>
  time
    .map((at) => cells[at] ?? '')
    .join(' ')
    .trim()

/** The temperature of a row; its own unit counts for more than that of the file. */
export function rowCelsius(
  { cells }: TableRow,
  { columns }: LoggerTable,
  { temperature }: ReadColumns,
  unit: TemperatureUnitSaid | null,
): CelsiusRead {
  const ownUnit = columns.unit === null ? null : unitIn(cells[columns.unit] ?? '')
  return readCelsius(cells[temperature] ?? '', ownUnit ?? unit)
}

/** Why a temperature does not count; null when it does. */
function celsiusFault(text: string, read: CelsiusRead): string | null {
  if (text === '') return 'is empty'
  switch (read.kind) {
    case 'celsius':
      return null
    case 'absurd':
      return `“${text}” is ${read.celsius} °C: no store has that; was the probe loose?`
    case 'no-number':
      return `“${text}” is not a temperature`
    case 'no-unit':
      return `“${text}” is in a unit that nobody has named`
  }
}

/** Reads one row, or says what is wrong with it. */
export function readLoggerRow(
  row: TableRow,
  table: LoggerTable,
  columns: ReadColumns,
  { unit, days }: RowsAs,
): RowMoment | RowFault {
  const { line, cells } = row
  const { heading } = table
  const fault = (at: number | undefined, why: string): RowFault => ({
    line,
    column: heading.cells[at ?? -1] || null,
    why,
  })
  if (cells.slice(heading.cells.length).some((text) => text !== '')) {
    const [has, had] = [cells.length, heading.cells.length]
    const why = `has ${has} cells, the heading ${had}: is it a decimal comma without quotes?`
    return { line, column: null, why }
  }
  const text = momentText(row, columns)
  if (text === '') return fault(columns.time[0], 'is empty')
  const moment = readMoment(text, days)
  if (moment.kind === 'no-time') return fault(columns.time[0], `“${text}” has no time of day`)
  if (moment.kind === 'no-moment' || moment.kind === 'two-ways') {
    return fault(columns.time[0], `“${text}” is not a day and a time`)
  }
  const read = rowCelsius(row, table, columns, unit)
  const why = celsiusFault(cells[columns.temperature] ?? '', read)
  if (why !== null || read.kind !== 'celsius') return fault(columns.temperature, why ?? '')
  return { line, column: heading.cells[columns.time[0] ?? -1] || null, text, moment, celsius: read.celsius }
}
