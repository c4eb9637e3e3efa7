import type { TableRow } from '#lib/formats/csv/read-table.ts'

export type TemperatureUnitSaid = 'C' | 'F'

/** What the headings of a logger's file say. Places are counted from 0. */
export interface LoggerColumns {
  /** The column of the moment, or those of its day and its time of day; none when no heading says so. */
  readonly time: readonly number[]
  /** Columns that hold the temperature of the place, likeliest alone; several when the file has several probes. */
  readonly temperatures: readonly number[]
  /** A column that says the unit row by row. */
  readonly unit: number | null
}

const folded = (text: string) =>
  text
    .replace(/[([{].*?[)\]}]/g, ' ')
    .normalize('NFKD')
    .toLowerCase()
    .replace(/[^\p{Letter}\p{Number}]+/gu, ' ')
    .trim()

/** Words for day and time of day in one. German and French loggers are common in Europe. */
const moments =
  /^(date ?time|datetime|date (and |et )?(time|heure)|date time .*|time ?stamp.*|timestamp|moment|logged at|recorded( at)?|measured at|reading time|when|zeitpunkt|zeitstempel|datum uhrzeit|datum zeit|horodatage)$/
const days = /^(date|day|datum|jour)$/
const times = /^(time|time of day|hour|clock|uhrzeit|zeit|heure)( (utc|gmt).*)?$/

const degrees = /°\s*[cf]\b|\bdeg(rees)?\.?\s*[cf]\b/i
const isTemperature = (text: string) => degrees.test(text) || /temp|celsius|fahrenheit|thermo/i.test(text)
/** Temperatures that are not those of the place. */
const notThePlace =
  /dew|wet ?bulb|heat ?index|alarm|limit|set ?point|target|\bmin\b|\bmax\b|minimum|maximum|offset|feels/i
/** Where nothing says temperature, one of these alone does. */
const plain = /^(value|reading|measurement|wert|valeur|t|c|f|channel 1|ch ?1|probe( 1)?|sensor( 1)?)$/

/** Finds the columns of time and temperature in a heading, wherever they stand. */
export function loggerColumns({ cells }: TableRow): LoggerColumns {
  const named = cells.map((text, at) => ({ at, text, name: folded(text) }))
  const where = (test: (cell: (typeof named)[number]) => boolean) => named.filter(test).map(({ at }) => at)
  const moment = where(({ name }) => moments.test(name))
  const day = where(({ name }) => days.test(name))
  const time = where(({ name }) => times.test(name))
  const unit = where(({ name }) => /^(unit|units|scale|einheit|unite)$/.test(name))
  const temperatures = where(({ text, name }) => isTemperature(text) && !moments.test(name))
  const ofThePlace = temperatures.filter((at) => !notThePlace.test(cells[at] ?? ''))
  const fallback = where(({ name }) => plain.test(name))
  return {
    time: moment.length > 0 ? moment.slice(0, 1) : [...day.slice(0, 1), ...time.slice(0, 1)],
    temperatures: temperatures.length > 0 ? ofThePlace : fallback,
    unit: unit[0] ?? null,
  }
}

/** The unit that a text names; null when it names none, or both. */
export function unitIn(text: string): TemperatureUnitSaid | null {
  const isC = /celsius|°\s*c\b|\bdeg(rees)?\.?\s*c\b|(^|[\s([,/_-])c([\s)\],]|$)/i.test(text)
  const isF = /fahrenheit|°\s*f\b|\bdeg(rees)?\.?\s*f\b|(^|[\s([,/_-])f([\s)\],]|$)/i.test(text)
  if (isC === isF) return null
  return isC ? 'C' : 'F'
}

/** How far ahead of UTC the times of a column are when its heading says so, in minutes; null when it does not. */
export function offsetIn(heading: string): number | null {
  const found = /\b(?:utc|gmt)\s*(?:([+-])\s*(\d{1,2})(?::?(\d{2}))?)?/i.exec(heading)
  if (!found) return null
  const minutes = Number(found[2] ?? 0) * 60 + Number(found[3] ?? 0)
  return found[1] === '-' ? -minutes : minutes
}
