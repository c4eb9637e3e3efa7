import type { Interval } from '#lib/statistics/interval.ts'
import { rankBands } from '#lib/statistics/rank-bands.ts'

/** One row of a table of rates. */
export interface SentenceRow extends Interval {
  readonly name: string
  readonly mean: number
  /** What the gate lets be shown of it. */
  readonly shows: 'counts' | 'range' | 'rate'
}

export interface SentenceTable {
  readonly one: string
  readonly many: string
  readonly rows: readonly SentenceRow[]
  /** Outcomes that are known, and that are not. */
  readonly known: number
  readonly unknown: number
}

const whole = (share: number) => Math.round(share * 100)
const range = ({ low, high }: Interval) => `${whole(low)} to ${whole(high)} %`
const namedAtMost = 3

/** "Bramley", "Bramley and Fiesta", "Bramley, Fiesta and Cox", or "7 varieties". */
function list(rows: readonly SentenceRow[], many: string): string {
  const names = rows.map(({ name }) => name)
  if (names.length > namedAtMost) return `${names.length} ${many}`
  return names.length < 2 ? names.join() : `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`
}

function tooFew({ one, many, rows }: SentenceTable): string {
  const early = rows.filter(({ shows }) => shows === 'range')
  const [only] = early
  if (!only) return `no ${one} has enough known outcomes for a rate yet`
  return early.length === 1
    ? `no ${one} has enough known outcomes for a rate yet, and ${only.name} may lie anywhere from ${range(only)}`
    : `no ${one} has enough known outcomes for a rate yet, and those of ${early.length} ${many} allow a range at most`
}

function compared(ranked: readonly SentenceRow[], { many }: SentenceTable): string {
  const bands = rankBands(ranked)
  const lowest = Math.max(...bands)
  const inBand = (band: number) => ranked.filter((_, i) => bands[i] === band)
  if (lowest === 1) {
    const low = Math.min(...ranked.map((row) => row.low))
    const high = Math.max(...ranked.map((row) => row.high))
    return `no clear difference shows between the ${ranked.length} ${many} that have a rate: their ranges overlap, from ${range({ low, high })}`
  }
  const [best, worst] = [inBand(1), inBand(lowest)]
  return `${list(best, many)} took more often than ${list(worst, many)}, which says nothing of why: people chose what they tried, and part may be whose hands it was`
}

function besides({ many, one, rows, known, unknown }: SentenceTable, ranked: number): string[] {
  const silent = rows.length - ranked
  const notes: string[] = []
  if (ranked > 0 && silent > 0) notes.push(`${silent} ${silent === 1 ? one : many} more cannot be told yet`)
  if (unknown > 0) notes.push(`${unknown} of ${known + unknown} outcomes are not known`)
  return notes
}

/**
 * One sentence on a table of rates that says no more than its numbers do: no place in a ranking, no cause, and what is
 * missing beside what is there.
 *
 * @example "No clear difference shows between the 3 varieties that have a rate: their ranges overlap, from 61 to 96 %;
 * 4 of 140 outcomes are not known."
 */
export function cautiousSentence(table: SentenceTable): string {
  const { rows } = table
  if (rows.length === 0) return 'There is nothing to compare yet.'
  const ranked = rows.filter(({ shows }) => shows === 'rate')
  const [only] = ranked
  const said = !only
    ? tooFew(table)
    : ranked.length === 1
      ? `only ${only.name} has enough known outcomes for a rate: the next one takes with a chance of likely ${range(only)}`
      : compared(ranked, table)
  const sentence = [said, ...besides(table, ranked.length)].join('; ')
  return `${sentence.charAt(0).toUpperCase()}${sentence.slice(1)}.`
}
