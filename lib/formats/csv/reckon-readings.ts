import type { MomentRead } from '#lib/formats/csv/read-moment.ts'
import type { RowFault } from '#lib/formats/csv/row-reader.ts'
import type { WallTimes } from '#lib/formats/csv/wall-times.ts'

/** A row that was read: what its clock said, and the temperature. */
export interface RowMoment {
  readonly line: number
  /** Heading of the time. */
  readonly column: string | null
  readonly text: string
  readonly moment: Extract<MomentRead, { readonly kind: 'instant' | 'wall' }>
  readonly celsius: number
}

/** One reading of a logger. */
export interface LoggerReading {
  /** Of the file, counted from 1. */
  readonly line: number
  readonly at: Date
  readonly celsius: number
}

/** A time without readings that counts as unread. */
export interface ReadingGap {
  readonly from: Date
  readonly to: Date
}

export interface Reckoned {
  /** In the order of time, each moment once. */
  readonly readings: readonly LoggerReading[]
  /** Rows that say the same as an earlier one of the same moment. */
  readonly repeated: number
  readonly faults: readonly RowFault[]
  /** Times that the clock showed twice, told apart by the order of the rows. */
  readonly doubled: number
}

/** A logger whose clock was never set begins in some year long past. */
const oldestMs = 5 * 366 * 86_400_000

/** Whether the file runs from the latest to the earliest. */
function isBackwards(rows: readonly RowMoment[]): boolean {
  const [first, last] = [rows[0], rows.at(-1)]
  return first !== undefined && last !== undefined && last.moment.ms < first.moment.ms
}

interface Placed {
  readonly row: RowMoment
  readonly ms: number
}

/** The instants of rows in the order of time. Of a time shown twice the first is taken, unless it has passed already. */
function place(rows: readonly RowMoment[], times: WallTimes, fault: (row: RowMoment, why: string) => void) {
  const placed: Placed[] = []
  let doubled = 0
  let before = -Infinity
  for (const row of isBackwards(rows) ? rows.toReversed() : rows) {
    const { moment } = row
    const [first, second] = moment.kind === 'instant' ? [moment.ms] : times.instants(moment.ms)
    if (first === undefined) {
      fault(row, `“${row.text}” never was: the clocks went forward over it`)
      continue
    }
    const ms = second !== undefined && first <= before ? second : first
    if (second !== undefined) doubled++
    placed.push({ row, ms })
    before = ms
  }
  return { placed, doubled }
}

/** Turns rows into readings: each at its instant, once; what cannot be, or contradicts an earlier row, is named. */
export function reckon(
  rows: readonly RowMoment[],
  times: WallTimes,
  { now }: { readonly now: Date },
): Reckoned {
  const faults: RowFault[] = []
  const fault = ({ line, column }: RowMoment, why: string) => faults.push({ line, column, why })
  const { placed, doubled } = place(rows, times, fault)
  const kept = new Map<number, LoggerReading>()
  let repeated = 0
  for (const { row, ms } of placed.toSorted((a, b) => a.row.line - b.row.line)) {
    const earlier = kept.get(ms)
    if (ms > now.getTime()) fault(row, `“${row.text}” is still to come: is the logger’s clock right?`)
    else if (ms < now.getTime() - oldestMs) {
      fault(row, `“${row.text}” is more than five years ago: was the logger’s clock set?`)
    } else if (!earlier) kept.set(ms, { line: row.line, at: new Date(ms), celsius: row.celsius })
    else if (earlier.celsius === row.celsius) repeated++
    else
      fault(
        row,
        `says ${row.celsius} °C for the moment at which line ${earlier.line} says ${earlier.celsius} °C`,
      )
  }
  const readings = [...kept.values()].sort((a, b) => a.at.getTime() - b.at.getTime())
  return { readings, repeated, faults, doubled }
}

/** Times between readings that are too long to be bridged, in the order of time. */
export function gapsBetween(readings: readonly { readonly at: Date }[], longestMs: number): ReadingGap[] {
  return readings.slice(1).flatMap(({ at }, i) => {
    const from = readings[i]?.at
    return from && at.getTime() - from.getTime() > longestMs ? [{ from, to: at }] : []
  })
}
