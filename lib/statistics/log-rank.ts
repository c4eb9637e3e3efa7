import { chiSquareTail } from '#lib/statistics/chi-square-tail.ts'
import { invertPositive } from '#lib/statistics/dense/invert-positive.ts'
import { eventTable, type TimedEvent } from '#lib/statistics/event-table.ts'

export interface LogRank {
  readonly chiSquare: number
  readonly df: number
  readonly p: number
  /** Events of each group, and how many its numbers would have brought if all groups were alike. */
  readonly observed: readonly number[]
  readonly expected: readonly number[]
}

/** Adds the hypergeometric covariance of one time's events to `variance`, without the last group. */
function addCovariance(
  variance: Float64Array,
  atRisk: readonly number[],
  total: number,
  events: number,
): void {
  const size = atRisk.length - 1
  if (total < 2) return
  const factor = (events * (total - events)) / (total - 1)
  for (let i = 0; i < size; i++) {
    for (let j = 0; j < size; j++) {
      const own = i === j ? (atRisk[i] ?? 0) / total : 0
      const shared = ((atRisk[i] ?? 0) * (atRisk[j] ?? 0)) / (total * total)
      variance[i * size + j] = (variance[i * size + j] ?? 0) + factor * (own - shared)
    }
  }
}

/**
 * Whether an event comes equally soon in all groups. Null when the groups never stood at risk together, so that nothing
 * can be told. Throws RangeError for fewer than two groups, an empty one, and for what are no times.
 *
 * Source: N. Mantel 1966, Cancer Chemother Rep 50:163–170 (from memory); as `survdiff` in R.
 */
export function logRank(groups: readonly (readonly TimedEvent[])[]): LogRank | null {
  if (groups.length < 2) throw new RangeError('There are no two groups to compare')
  const tables = groups.map((group) => eventTable(group, 1))
  const size = groups.length - 1
  const times = [...new Set(tables.flatMap((rows) => rows.map(({ time }) => time)))].sort((a, b) => a - b)
  const places = groups.map(() => 0)
  const observed = groups.map(() => 0)
  const expected = groups.map(() => 0)
  const variance = new Float64Array(size * size)
  for (const time of times) {
    const rows = tables.map((table, g) => table[places[g] ?? 0])
    const atRisk = rows.map((row) => row?.atRisk ?? 0)
    const events = rows.map((row) => (row?.time === time ? (row.events[0] ?? 0) : 0))
    const total = atRisk.reduce((sum, count) => sum + count, 0)
    const all = events.reduce((sum, count) => sum + count, 0)
    for (const [g, row] of rows.entries()) {
      observed[g] = (observed[g] ?? 0) + (events[g] ?? 0)
      expected[g] = (expected[g] ?? 0) + (all * (atRisk[g] ?? 0)) / total
      if (row?.time === time) places[g] = (places[g] ?? 0) + 1
    }
    addCovariance(variance, atRisk, total, all)
  }
  const inverse = invertPositive(variance, size)
  if (!inverse) return null
  const surplus = observed.map((count, g) => count - (expected[g] ?? 0))
  let chiSquare = 0
  for (let i = 0; i < size; i++) {
    for (let j = 0; j < size; j++) {
      chiSquare += (surplus[i] ?? 0) * (inverse[i * size + j] ?? 0) * (surplus[j] ?? 0)
    }
  }
  return { chiSquare, df: size, p: chiSquareTail(chiSquare, size), observed, expected }
}
