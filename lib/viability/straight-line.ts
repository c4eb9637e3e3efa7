import type { CelsiusRange } from '#lib/viability/scenarios.ts'

/** A point of time with the temperature there. */
export interface TimedCelsius {
  readonly ms: number
  readonly celsius: CelsiusRange
}

const hourMs = 3_600_000

/**
 * A straight line from one temperature to another in pieces of an hour at most, each at the temperature of its middle.
 * No pieces when the end is not after the beginning.
 */
export function straightLine(
  start: TimedCelsius,
  end: TimedCelsius,
): { readonly fromMs: number; readonly toMs: number; readonly celsius: CelsiusRange }[] {
  const lengthMs = end.ms - start.ms
  const pieces = Math.max(0, Math.ceil(lengthMs / hourMs))
  return Array.from({ length: pieces }, (_, piece) => {
    const share = (piece + 0.5) / pieces
    const between = (bound: keyof CelsiusRange) =>
      start.celsius[bound] + share * (end.celsius[bound] - start.celsius[bound])
    return {
      fromMs: start.ms + Math.round((piece / pieces) * lengthMs),
      toMs: start.ms + Math.round(((piece + 1) / pieces) * lengthMs),
      celsius: { low: between('low'), mid: between('mid'), high: between('high') },
    }
  })
}
