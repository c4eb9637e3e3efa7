import { counted } from '#app/_ui/measures.ts'
import type { Rate } from '#app/_ui/rate-dot.tsx'
import type { OutcomeRow } from '#lib/results/outcome-rate.ts'
import type { ResultsSide, ResultsTable } from '#lib/results/results.ts'

const percent = (share: number) => Math.round(share * 100)
const range = (low: number, high: number) => `${percent(low)} to ${percent(high)} %`

/** A row as the chart draws it. */
export function chartRate({ rate, unknown }: OutcomeRow): Rate {
  if (rate.kind === 'not-enough') return { took: 0, known: rate.known, unknown, pooled: null }
  return {
    took: rate.alive,
    known: rate.known,
    unknown,
    pooled: { estimate: rate.rate, low: rate.interval.low, high: rate.interval.high },
  }
}

/** "31 of 36"; nothing while there are too few to say. */
export const countWords = ({ rate }: OutcomeRow): string =>
  rate.kind === 'shown' ? `${rate.alive} of ${rate.known}` : ''

/** "70 to 90 %". */
export const likelyWords = ({ rate }: OutcomeRow): string =>
  rate.kind === 'shown' ? range(rate.interval.low, rate.interval.high) : '—'

/** "55 to 86 %": the plain count if every unknown failed, or every one took. */
export const worstBestWords = ({ rate, unknown }: OutcomeRow): string =>
  rate.kind === 'shown' && unknown > 0 ? range(rate.worst, rate.best) : ''

/** "6 batches, 4 growers". */
export const behindWords = ({ attempts, growers }: OutcomeRow): string =>
  `${counted(attempts, 'batch', 'batches')}, ${counted(growers, 'grower')}`

export const sideWords = {
  grafts: { piece: 'graft', pieces: 'grafts', did: 'took', head: 'Took' },
  rooting: { piece: 'cutting', pieces: 'cuttings', did: 'rooted', head: 'Rooted' },
} as const satisfies Record<ResultsSide, object>

/** One sentence about a side, for the head of the page. */
export function verdict(side: ResultsSide, table: ResultsTable<OutcomeRow>): string {
  const { pieces, did } = sideWords[side]
  const { total, known } = table
  const heard = `We know what became of ${known} of ${table.pieces}.`
  if (total.rate.kind === 'not-enough') return `Too few ${pieces} are known yet to give a rate. ${heard}`
  const { alive, known: shown } = total.rate
  return `${alive} of ${shown} ${pieces} ${did}, likely between ${likelyWords(total)}. ${heard}`
}

/**
 * One sentence on how far apart the rows are, by whether their ranges meet. It never names a best: a row stands
 * out only when its range lies wholly on one side of the group's rate.
 */
export function differenceWords<Row extends OutcomeRow>(
  table: ResultsTable<Row>,
  nameOf: (row: Row) => string,
): string | null {
  const { total } = table
  if (total.rate.kind !== 'shown') return null
  const mean = total.rate.rate
  const shown = table.rows.flatMap((row) => (row.rate.kind === 'shown' ? [{ row, rate: row.rate }] : []))
  if (shown.length < 2) return null
  const named = (rows: readonly (typeof shown)[number][]) =>
    rows.map(({ row, rate }) => `${nameOf(row)} (${rate.alive} of ${rate.known})`).join(', ')
  const above = shown.filter(({ rate }) => rate.interval.low > mean)
  const below = shown.filter(({ rate }) => rate.interval.high < mean)
  if (above.length === 0 && below.length === 0) {
    return 'We cannot tell them apart yet: every range takes in the average of the group.'
  }
  const said = [
    above.length > 0 ? `more than the average so far: ${named(above)}` : null,
    below.length > 0 ? `less than the average so far: ${named(below)}` : null,
  ].filter((part) => part !== null)
  return `Of the ${shown.length} with a rate, ${said.join('; ')}. The others we cannot tell apart yet.`
}
