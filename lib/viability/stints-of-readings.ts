import type { CelsiusRange } from '#lib/viability/scenarios.ts'
import { longestBridgeMs, type StorageStint, type TemperatureBasis } from '#lib/viability/storage-history.ts'
import { straightLine } from '#lib/viability/straight-line.ts'

/** A temperature read at a moment, °C. */
export interface Reading {
  readonly at: Date
  readonly celsius: number
}

export interface ReadingsInput {
  /** A lot's stay in the store: `to` is null while it is still there. */
  readonly from: Date
  readonly to: Date | null
  readonly readings: readonly Reading[]
  readonly basis: Exclude<TemperatureBasis, 'assumed'>
  /** What counts in this store while nobody reads it. */
  readonly unread: CelsiusRange
  /** How that is known; assumed when left out. */
  readonly unreadBasis?: Exclude<TemperatureBasis, 'logger'>
}

const dayMs = 86_400_000

const exactly = (celsius: number): CelsiusRange => ({ low: celsius, mid: celsius, high: celsius })

/** What is taken to go on after the last reading: the lowest, mean and highest of the day up to it. */
function lastDay(points: readonly { ms: number; celsius: number }[], endMs: number): CelsiusRange {
  const values = points.filter(({ ms }) => ms > endMs - dayMs).map(({ celsius }) => celsius)
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length
  const [low, high] = [Math.min(...values), Math.max(...values)]
  // A mean of equal numbers can be off by rounding.
  return { low, mid: Math.min(Math.max(mean, low), high), high }
}

/**
 * One stay in a store as a row of stints that follow its readings, in place of one temperature for all of it. Up to
 * six hours between two readings are a straight line, up to six before the first and after the last are as these;
 * longer times count as unread. A stay that still goes on continues at what the last day of readings showed. Readings
 * from outside the stay are left out; without any, the whole stay is unread.
 */
export function stintsOfReadings(input: ReadingsInput): StorageStint[] {
  const { from, to, readings, basis, unread, unreadBasis = 'assumed' } = input
  const [fromMs, toMs] = [from.getTime(), to?.getTime() ?? Infinity]
  const points = readings
    .map(({ at, celsius }) => ({ ms: at.getTime(), celsius }))
    .filter(({ ms }) => ms >= fromMs && ms <= toMs)
    .sort((a, b) => a.ms - b.ms || a.celsius - b.celsius)
    // A logger read out twice has every reading twice.
    .filter(({ ms, celsius }, i, all) => ms !== all[i - 1]?.ms || celsius !== all[i - 1]?.celsius)
  const [first, last] = [points[0], points.at(-1)]
  if (!first || !last) return [{ from, to, celsius: unread, basis: unreadBasis }]
  const stint = (startMs: number, endMs: number, celsius: CelsiusRange | null): StorageStint => ({
    from: new Date(startMs),
    to: endMs === Infinity ? null : new Date(endMs),
    celsius: celsius ?? unread,
    basis: celsius ? basis : unreadBasis,
  })
  const held = (startMs: number, endMs: number, celsius: number) =>
    endMs > startMs
      ? [stint(startMs, endMs, endMs - startMs <= longestBridgeMs ? exactly(celsius) : null)]
      : []
  const between = points.slice(1).flatMap((point, i) => {
    const before = points[i] ?? first
    if (point.ms - before.ms > longestBridgeMs) return [stint(before.ms, point.ms, null)]
    return straightLine(
      { ms: before.ms, celsius: exactly(before.celsius) },
      { ms: point.ms, celsius: exactly(point.celsius) },
    ).map((piece) => stint(piece.fromMs, piece.toMs, piece.celsius))
  })
  const after =
    to === null ? [stint(last.ms, Infinity, lastDay(points, last.ms))] : held(last.ms, toMs, last.celsius)
  return [...held(fromMs, first.ms, first.celsius), ...between, ...after]
}
