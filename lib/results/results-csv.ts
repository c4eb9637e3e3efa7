import { type CsvCell, writeCsv } from '#lib/formats/csv/write-csv.ts'
import type { OutcomeRow } from '#lib/results/outcome-rate.ts'
import type { Results, ResultsSide } from '#lib/results/results.ts'

const head = [
  'table',
  'kind',
  'crop',
  'variety',
  'method',
  'treatment',
  'batches',
  'growers',
  'pieces',
  'still_waiting',
  'not_known',
  'known',
  'took_or_rooted',
  'rate',
  'low_95',
  'high_95',
  'worst',
  'best',
  'needs_more',
] as const

/** Four digits: more than the counts can carry, and enough to check them by hand. */
const share = (value: number): number => Math.round(value * 10_000) / 10_000

function numbers(row: OutcomeRow): readonly CsvCell[] {
  const { attempts, growers, pieces, pending, unknown, rate } = row
  const counts = [attempts, growers, pieces, pending, unknown, rate.known]
  if (rate.kind === 'not-enough') return [...counts, null, null, null, null, null, null, rate.needs]
  const { alive, interval, worst, best } = rate
  const shares = [rate.rate, interval.low, interval.high, worst, best].map(share)
  return [...counts, alive, ...shares, null]
}

const sides: readonly ResultsSide[] = ['grafts', 'rooting']

/** The results as a table; rows below five known outcomes carry no outcome here either. */
export function resultsCsv({ byVariety, byMethod }: Results): string {
  const varieties = sides.flatMap((side) =>
    byVariety[side].rows.map((row) => [
      'by variety',
      side,
      row.commonName,
      row.varietyName,
      null,
      null,
      ...numbers(row),
    ]),
  )
  const methodRows = sides.flatMap((side) =>
    byMethod[side].rows.flatMap((row) => [
      ['by method', side, null, null, row.methodName, null, ...numbers(row)],
      ...row.treatments.map((treatment) => [
        'by method and treatment',
        side,
        null,
        null,
        row.methodName,
        treatment.treatment,
        ...numbers(treatment),
      ]),
    ]),
  )
  return writeCsv(head, [...varieties, ...methodRows])
}
