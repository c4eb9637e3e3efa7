import type { Scenario } from '#lib/viability/scenarios.ts'
import type { StorageSegment } from '#lib/viability/storage-history.ts'

/** A stretch of a lot's life as one run reads it, in hours since the cut; the last one has no end. */
export interface Stretch {
  readonly from: number
  readonly to: number
  readonly celsius: number
}

const hourMs = 3_600_000

export const hoursSince = (cutAt: Date, ms: number): number => (ms - cutAt.getTime()) / hourMs

/** The history of a lot with the temperatures that one run reads. */
export const stretchesOf = (
  segments: readonly StorageSegment[],
  cutAt: Date,
  { reads }: Pick<Scenario, 'reads'>,
): Stretch[] =>
  segments.map(({ fromMs, toMs, celsius }) => ({
    from: hoursSince(cutAt, fromMs),
    to: hoursSince(cutAt, toMs),
    celsius: celsius[reads],
  }))
