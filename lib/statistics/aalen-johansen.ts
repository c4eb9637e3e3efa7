import { type EventRow, eventTable, type TimedEvent } from '#lib/statistics/event-table.ts'
import { logLogLimits } from '#lib/statistics/log-log-limits.ts'

export interface Incidence {
  /** The share to which this kind has happened by then. */
  readonly share: number
  readonly standardError: number
  /** Log-log limits; null where the share is 0 or 1. */
  readonly low: number | null
  readonly high: number | null
}

export interface IncidenceStep {
  readonly time: number
  readonly atRisk: number
  /** The share to which nothing has happened by then. */
  readonly free: number
  /** By kind, in the order of their numbers. */
  readonly incidences: readonly Incidence[]
  /** Whether enough were still watched for the curve to be drawn: 5, and a tenth of all. */
  readonly isEnough: boolean
}

/** How free share and incidences would move if one observation counted for more, by what became of it and when. */
interface Influence {
  readonly time: number
  readonly kind: number
  readonly count: number
  free: number
  readonly shares: number[]
}

function startInfluences(rows: readonly EventRow[], kinds: number): Influence[] {
  return rows.flatMap(({ time, atRisk, events }, i) => {
    const next = rows[i + 1]?.atRisk ?? 0
    const ended = atRisk - next - events.reduce((sum, count) => sum + count, 0)
    return [ended, ...events].flatMap((count, kind) =>
      count === 0 ? [] : [{ time, kind, count, free: 0, shares: new Array<number>(kinds).fill(0) }],
    )
  })
}

/** Carries each influence over one time: the derivative of the product-limit recursion by an observation's weight. */
function carry(influences: readonly Influence[], row: EventRow, free: number): void {
  const { time, atRisk, events } = row
  const hazards = events.map((count) => count / atRisk)
  const hazard = hazards.reduce((sum, share) => sum + share, 0)
  for (const influence of influences) {
    const isAtRisk = influence.time >= time
    let moved = 0
    for (const [k, share] of hazards.entries()) {
      const isIts = influence.time === time && influence.kind === k + 1
      const own = isAtRisk ? ((isIts ? 1 : 0) - share) / atRisk : 0
      moved += own
      influence.shares[k] = (influence.shares[k] ?? 0) + influence.free * share + free * own
    }
    influence.free = influence.free * (1 - hazard) - free * moved
  }
}

/**
 * Shares by time of what may happen in more ways than one (took, died), those still pending or lost sight of counted as
 * long as they were watched. Treating deaths as if watching had ended would flatter: what died can no longer take.
 * `event` is the number of the kind from 1, or 0 for none yet. Standard errors from the influence of each observation.
 * Throws RangeError for what are no times or kinds, and for a level outside 0 to 1.
 *
 * Source: O. O. Aalen and S. Johansen 1978, Scand J Statist 5:141–150 (from memory); as the multi-state `survfit` in R,
 * whose standard errors are the infinitesimal jackknife.
 */
export function aalenJohansen(
  observations: readonly TimedEvent[],
  kinds = 2,
  level = 0.95,
): readonly IncidenceStep[] {
  const rows = eventTable(observations, kinds)
  const influences = startInfluences(rows, kinds)
  const shares = new Array<number>(kinds).fill(0)
  let free = 1
  return rows.flatMap((row) => {
    const { time, atRisk, events } = row
    if (events.every((count) => count === 0)) return []
    carry(influences, row, free)
    for (const [k, count] of events.entries()) shares[k] = (shares[k] ?? 0) + (free * count) / atRisk
    free *= 1 - events.reduce((sum, count) => sum + count, 0) / atRisk
    const incidences = shares.map((share, k) => {
      const variance = influences.reduce((sum, of) => sum + of.count * (of.shares[k] ?? 0) ** 2, 0)
      const standardError = Math.sqrt(variance)
      return { share, standardError, ...logLogLimits(share, standardError, level) }
    })
    const isEnough = atRisk >= Math.max(5, observations.length / 10)
    return [{ time, atRisk, free, incidences, isEnough }]
  })
}
