import { offsetIn, type TemperatureUnitSaid, unitIn } from '#lib/formats/csv/logger-columns.ts'
import { type LoggerTable, readLoggerTable } from '#lib/formats/csv/logger-table.ts'
import type { DayOrder } from '#lib/formats/csv/read-day.ts'
import { momentText, type ReadColumns, readLoggerRow, rowCelsius } from '#lib/formats/csv/read-logger-row.ts'
import { type MomentRead, readMoment } from '#lib/formats/csv/read-moment.ts'
import type { TableRefusal } from '#lib/formats/csv/read-table.ts'
import { type LoggerReading, type Reckoned, reckon } from '#lib/formats/csv/reckon-readings.ts'
import { fixedTimes, wallTimes } from '#lib/formats/csv/wall-times.ts'
import type { CivilDate } from '#lib/kernel/civil-date.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'

/** What a person has answered about a file; null where nobody was asked or has answered. */
export interface LoggerAnswers {
  readonly days: Exclude<DayOrder, 'iso'>
  readonly unit: TemperatureUnitSaid | null
  /** What the logger's clock shows: the time on the wall, changed with the seasons, or UTC. */
  readonly clock: 'wall' | 'utc'
  /** Places of columns, from 0. */
  readonly timeColumn: number | null
  readonly temperatureColumn: number | null
}

export interface LoggerSetting {
  /** Of the group: times without a zone are read on its wall. */
  readonly timeZone: string
  readonly now: Date
}

/** A heading and what stands first below it, to choose from. */
export interface ColumnChoice {
  readonly at: number
  readonly heading: string
  readonly example: string
}

/** What has to be known before the file can be read. */
export interface LoggerQuestions {
  /** The columns to choose from, when the headings do not say which is which. */
  readonly columns: readonly ColumnChoice[] | null
  readonly asksForTime: boolean
  readonly asksForTemperature: boolean
  readonly asksForUnit: boolean
  /** A day that could be read two ways. */
  readonly days: { readonly text: string; readonly readings: readonly [CivilDate, CivilDate] } | null
}

export type LoggerRefusal =
  | TableRefusal
  | { readonly kind: 'no-rows' }
  | { readonly kind: 'too-many-rows'; readonly rows: number; readonly most: number }
  | { readonly kind: 'questions'; readonly questions: LoggerQuestions }

export interface LoggerFile extends Reckoned {
  /** Filled rows below the heading. */
  readonly rows: number
  /** Headings that were read. */
  readonly timeHeading: string
  readonly temperatureHeading: string
  /** Null when the rows say it themselves. */
  readonly unit: TemperatureUnitSaid | null
  readonly days: DayOrder
}

export type { LoggerReading }

const mostRows = 50_000

function columnsOf({ columns, heading }: LoggerTable, answers: LoggerAnswers) {
  const isThere = (at: number | null): at is number => at !== null && at < heading.cells.length
  const time = isThere(answers.timeColumn) ? [answers.timeColumn] : columns.time
  const [only, ...more] = columns.temperatures
  const found = more.length === 0 ? only : undefined
  const temperature = isThere(answers.temperatureColumn) ? answers.temperatureColumn : found
  return { time: time.length > 0 ? time : null, temperature: temperature ?? null }
}

/**
 * The order of day and month. A file has one order throughout, so a day that can be read in one way only tells how the
 * others are meant; null when none does, or when some say this and some that.
 */
function dayOrder(texts: readonly string[]): {
  readonly order: DayOrder
  readonly doubt: MomentRead | null
  readonly text: string
} {
  const doubtful = texts.find((text) => readMoment(text, null).kind === 'two-ways')
  if (doubtful === undefined) return { order: null, doubt: null, text: '' }
  const isRead = (text: string, order: DayOrder) => {
    const { kind } = readMoment(text, order)
    return kind === 'wall' || kind === 'instant'
  }
  const isDayFirst = texts.some((text) => isRead(text, 'dmy') && !isRead(text, 'mdy'))
  const isMonthFirst = texts.some((text) => isRead(text, 'mdy') && !isRead(text, 'dmy'))
  if (isDayFirst !== isMonthFirst) return { order: isDayFirst ? 'dmy' : 'mdy', doubt: null, text: '' }
  return { order: null, doubt: readMoment(doubtful, null), text: doubtful }
}

function unitOf(
  { heading, preamble }: LoggerTable,
  { temperature }: ReadColumns,
): TemperatureUnitSaid | null {
  const inHeading = unitIn(heading.cells[temperature] ?? '')
  if (inHeading) return inHeading
  const said = preamble
    .map(({ cells }) => cells.join(' '))
    .find((line) => /unit|temperature|einheit/i.test(line) && unitIn(line) !== null)
  return said === undefined ? null : unitIn(said)
}

function questionsOn(table: LoggerTable, more: Partial<LoggerQuestions>): LoggerRefusal {
  const [first] = table.rows
  const asksForColumns = (more.asksForTime ?? false) || (more.asksForTemperature ?? false)
  const columns = table.heading.cells.map((heading, at) => ({ at, heading, example: first?.cells[at] ?? '' }))
  return {
    kind: 'questions',
    questions: {
      asksForTime: false,
      asksForTemperature: false,
      asksForUnit: false,
      days: null,
      ...more,
      columns: asksForColumns ? columns : null,
    },
  }
}

function readRows(
  table: LoggerTable,
  columns: ReadColumns,
  answers: LoggerAnswers,
  setting: LoggerSetting,
): Result<LoggerFile, LoggerRefusal> {
  const { rows, heading } = table
  const found = answers.days === null ? dayOrder(rows.map((row) => momentText(row, columns))) : null
  const days = answers.days ?? found?.order ?? null
  const doubt =
    found?.doubt?.kind === 'two-ways' ? { text: found.text, readings: found.doubt.readings } : null
  const unit = unitOf(table, columns) ?? answers.unit
  const asksForUnit = rows.some((row) => rowCelsius(row, table, columns, unit).kind === 'no-unit')
  if (asksForUnit || doubt) return refuse(questionsOn(table, { asksForUnit, days: doubt }))
  const timeHeading = columns.time.map((at) => heading.cells[at]).join(', ')
  const said = answers.clock === 'utc' ? 0 : offsetIn(timeHeading)
  const times = said === null ? wallTimes(setting.timeZone) : fixedTimes(said)
  const read = rows.map((row) => readLoggerRow(row, table, columns, { unit, days }))
  const moments = read.filter((one) => 'moment' in one)
  const faults = read.filter((one) => 'why' in one)
  const reckoned = reckon(moments, times, setting)
  return ok({
    ...reckoned,
    faults: [...faults, ...reckoned.faults].sort((a, b) => a.line - b.line),
    rows: rows.length,
    timeHeading,
    temperatureHeading: heading.cells[columns.temperature] ?? '',
    unit,
    days,
  })
}

/**
 * Reads the file of a temperature logger: any separator, any order of columns, lines of the logger's own before the
 * heading, °C or °F, decimal comma, times with or without a zone. What cannot be told from the file is asked, never
 * guessed; rows that make no sense are named and left out.
 */
export function readLogger(
  bytes: Uint8Array,
  answers: LoggerAnswers,
  setting: LoggerSetting,
): Result<LoggerFile, LoggerRefusal> {
  const table = readLoggerTable(bytes)
  if (!table.ok) return table
  const { rows } = table.value
  if (rows.length === 0) return refuse({ kind: 'no-rows' })
  if (rows.length > mostRows) return refuse({ kind: 'too-many-rows', rows: rows.length, most: mostRows })
  const { time, temperature } = columnsOf(table.value, answers)
  if (time === null || temperature === null) {
    return refuse(
      questionsOn(table.value, { asksForTime: time === null, asksForTemperature: temperature === null }),
    )
  }
  return readRows(table.value, { time, temperature }, answers, setting)
}
