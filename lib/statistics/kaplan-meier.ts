import { eventTable, type TimedEvent } from '#lib/statistics/event-table.ts'
import { logLogLimits } from '#lib/statistics/log-log-limits.ts'

export interface SurvivalStep {
  readonly time: number
  readonly atRisk: number
  readonly events: number
  /** The share to which it has not happened by then. */
  readonly survival: number
  /** Greenwood's; null where nobody is left. */
  readonly standardError: number | null
  /** Log-log limits; null where the share is 0 or 1. */
  readonly low: number | null
  readonly high: number | null
}

export interface KaplanMeier {
  /** One for each time at which something happened. */
  readonly steps: readonly SurvivalStep[]
  /** When it has happened to half; null when it has not. */
  readonly median: number | null
  readonly medianLimits: { readonly low: number | null; readonly high: number | null }
}

const asGoodAsHalf = Math.sqrt(Number.EPSILON)

/** Where a curve first reaches a half; the middle of the flat when it lies on it. */
function timeOfHalf(points: readonly { time: number; value: number | null }[]): number | null {
  const below = points.filter(({ value }) => value !== null && value < 0.5 + asGoodAsHalf)
  const [first] = below
  if (first?.value == null) return null
  const level = first.value
  const next = below.find(({ value }) => value !== null && value < level)
  return Math.abs(level - 0.5) < asGoodAsHalf && next ? (first.time + next.time) / 2 : first.time
}

/**
 * The share to which an event has not happened by each time, of which some were only watched so far. `time` is when the
 * event was seen or the watching ended. Outcomes seen only at visits lie between two of them: give the visit that found
 * it, and the steps stand where it was noticed. Throws RangeError for times below 0, no observations, and for a level
 * outside 0 to 1.
 *
 * Source: E. L. Kaplan and P. Meier 1958, J Am Stat Assoc 53:457–481; as `survfit(…, conf.type = "log-log")` in R.
 */
export function kaplanMeier(observations: readonly TimedEvent[], level = 0.95): KaplanMeier {
  let survival = 1
  let greenwood = 0
  const steps = eventTable(observations, 1).flatMap(({ time, atRisk, events: [events = 0] }) => {
    if (events === 0) return []
    survival *= 1 - events / atRisk
    greenwood += events / (atRisk * (atRisk - events))
    const standardError = events === atRisk ? null : survival * Math.sqrt(greenwood)
    return [
      { time, atRisk, events, survival, standardError, ...logLogLimits(survival, standardError, level) },
    ]
  })
  const curve = (pick: (step: SurvivalStep) => number | null) =>
    timeOfHalf(steps.map((step) => ({ time: step.time, value: pick(step) })))
  return {
    steps,
    median: curve((step) => step.survival),
    medianLimits: { low: curve((step) => step.low), high: curve((step) => step.high) },
  }
}
