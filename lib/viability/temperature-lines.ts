/** A temperature that somebody wrote down: from a moment on, or read at it. */
export interface TemperatureLine {
  /** Its place in the text, from 1. */
  readonly line: number
  /** The moment as a clock on the wall shows it, as if it were UTC, in milliseconds. */
  readonly wallMs: number
  readonly celsius: number
}

export interface BadLine {
  readonly line: number
  readonly text: string
  readonly why: 'not-read' | 'no-such-day' | 'absurd-temperature' | 'same-moment'
}

export interface TemperatureLines {
  /** In the order of time. */
  readonly lines: readonly TemperatureLine[]
  readonly bad: readonly BadLine[]
}

const day = String.raw`(\d{4}-\d{2}-\d{2})`
const time = String.raw`(?:[T\s,;]+(\d{1,2}):(\d{2})(?::\d{2}(?:\.\d+)?)?(?:\s*(?:Z|[+-]\d{2}:?\d{2}))?)?`
const degrees = String.raw`(-?\d+(?:[.,]\d+)?)\s*°?\s*([CF])?`
const pattern = new RegExp(String.raw`^${day}${time}[\s,;]+${degrees}$`, 'i')
const temperature = new RegExp(`^${degrees}$`, 'i')

/** No place where wood is kept is outside this range, °C. */
const plausibleC = { low: -40, high: 50 }

const inCelsius = (number: string, unit: string | undefined): number => {
  const value = Number(number.replace(',', '.'))
  return unit?.toUpperCase() === 'F' ? Math.round(((value - 32) / 1.8) * 100) / 100 : value
}

const isPlausible = (celsius: number) => celsius >= plausibleC.low && celsius <= plausibleC.high
const tidy = (text: string) => text.trim().replaceAll('−', '-')

/** A temperature as people write it, °C: "4", "3,5", "-1 °C", "39 F". Null for anything else. */
export function parseTemperature(text: string): number | null {
  const [, number, unit] = temperature.exec(tidy(text)) ?? []
  if (number === undefined) return null
  const celsius = inCelsius(number, unit)
  return isPlausible(celsius) ? celsius : null
}

function readLine(text: string, line: number): TemperatureLine | BadLine {
  const bad = (why: BadLine['why']): BadLine => ({ line, text, why })
  const [, date, hour = '12', minute = '00', number, unit] = pattern.exec(tidy(text)) ?? []
  if (date === undefined || number === undefined) return bad('not-read')
  const wallMs = Date.parse(`${date}T${hour.padStart(2, '0')}:${minute}:00Z`)
  // A day that is not in the calendar, such as 30 February, is carried over into the next month.
  if (Number.isNaN(wallMs) || new Date(wallMs).toISOString().slice(0, 10) !== date) return bad('no-such-day')
  const celsius = inCelsius(number, unit)
  return isPlausible(celsius) ? { line, wallMs, celsius } : bad('absurd-temperature')
}

/**
 * Temperatures out of a pasted text, one to a line: a day, a time if there is one (noon otherwise), and a temperature
 * in °C or with an F behind it, parted by spaces, commas or semicolons. Times are read as they stand; what they say of
 * a time zone is left aside. Empty lines, and a first line without any digit, are passed over; every other line that
 * cannot be read is named.
 */
export function temperatureLines(text: string): TemperatureLines {
  const rows = text
    .split(/\r\n|\n|\r/)
    .map((row, i) => ({ row, line: i + 1 }))
    .filter(({ row }) => row.trim() !== '')
    .filter(({ row }, i) => i > 0 || /\d/.test(row))
  const lines: TemperatureLine[] = []
  const bad: BadLine[] = []
  const seen = new Map<number, number>()
  for (const { row, line } of rows) {
    const read = readLine(row, line)
    if ('why' in read) {
      bad.push(read)
      continue
    }
    const earlier = seen.get(read.wallMs)
    if (earlier !== undefined && earlier !== read.celsius) bad.push({ line, text: row, why: 'same-moment' })
    // A logger read out twice has every line twice.
    else if (earlier === undefined) lines.push(read)
    seen.set(read.wallMs, read.celsius)
  }
  return { lines: lines.sort((a, b) => a.wallMs - b.wallMs), bad }
}
