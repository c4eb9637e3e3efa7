import type { Interval } from '#lib/statistics/interval.ts'
import { wilsonInterval } from '#lib/statistics/wilson-interval.ts'

/** The pieces of one attempt by what became of them. `unknown`: never used, or lost sight of. `pending`: too early. */
export interface OutcomeCounts {
  readonly pieces: number
  readonly alive: number
  readonly dead: number
  readonly unknown: number
  readonly pending: number
}

/** Many attempts together. Shares are of 1. */
export interface OutcomeSummary extends OutcomeCounts {
  /** Pieces whose outcome is known: alive and dead. */
  readonly known: number
  /** Alive of known; null below five known. */
  readonly rate: number | null
  /** Wilson's 95 % interval of the rate; null below five known. */
  readonly interval: Interval | null
  /** The rate if every unknown piece had died; 0 when nothing is known or unknown. */
  readonly worst: number
  /** The rate if every unknown piece had lived; 1 when nothing is known or unknown. */
  readonly best: number
  /** The share of decided pieces whose outcome is known; null when none is decided. */
  readonly reporting: number | null
  /**
   * What may stand as the figure: the rate; or the range from worst to best, where more than a fifth is unknown or the
   * unknown could make more of a difference than chance; or nothing yet.
   */
  readonly figure: 'rate' | 'range' | 'none'
  readonly gate: { readonly kind: 'not-enough'; readonly needs: number } | { readonly kind: 'shown' }
}

/** Fewer known outcomes than this give no rate: too little to say, and too easy to tell whose they were. */
export const fewestKnownOutcomes = 5

/** Above this share of unknown outcomes a rate of the known ones says too little. A judgement. */
const mostUnknown = 0.2

function figureOf(unknownShare: number, interval: Interval | null, bounds: number): OutcomeSummary['figure'] {
  if (!interval) return 'none'
  return unknownShare > mostUnknown || bounds > interval.high - interval.low ? 'range' : 'rate'
}

function requireOutcomeCounts(counts: OutcomeCounts): void {
  const { pieces, alive, dead, unknown, pending } = counts
  const areCounts = [pieces, alive, dead, unknown, pending].every((n) => Number.isSafeInteger(n) && n >= 0)
  if (!areCounts || alive + dead + unknown + pending !== pieces) {
    throw new RangeError(`The outcomes of an attempt do not add up: ${JSON.stringify(counts)}`)
  }
}

/**
 * Counts of many attempts as one honest rate: of known outcomes only, with its interval, and beside it the worst
 * and best that the unknown ones allow. Pending pieces count nowhere but in their own column. Throws RangeError
 * when an attempt's outcomes do not add up to its pieces.
 *
 * @example 12 took, 3 failed, 7 unknown: rate 0.8 (0.548 to 0.930), worst 0.545, best 0.864.
 */
export function summariseOutcomes(attempts: readonly OutcomeCounts[]): OutcomeSummary {
  const total = { pieces: 0, alive: 0, dead: 0, unknown: 0, pending: 0 }
  for (const attempt of attempts) {
    requireOutcomeCounts(attempt)
    total.pieces += attempt.pieces
    total.alive += attempt.alive
    total.dead += attempt.dead
    total.unknown += attempt.unknown
    total.pending += attempt.pending
  }
  const known = total.alive + total.dead
  const decided = known + total.unknown
  const isShown = known >= fewestKnownOutcomes
  const interval = isShown ? wilsonInterval(total.alive, known) : null
  const worst = decided === 0 ? 0 : total.alive / decided
  const best = decided === 0 ? 1 : (total.alive + total.unknown) / decided
  return {
    ...total,
    known,
    rate: isShown ? total.alive / known : null,
    interval,
    worst,
    best,
    reporting: decided === 0 ? null : known / decided,
    figure: figureOf(decided === 0 ? 0 : total.unknown / decided, interval, best - worst),
    gate: isShown ? { kind: 'shown' } : { kind: 'not-enough', needs: fewestKnownOutcomes - known },
  }
}
