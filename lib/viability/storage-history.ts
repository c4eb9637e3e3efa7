import { type CelsiusRange, unknownRoomCelsius } from '#lib/viability/scenarios.ts'
import { straightLine } from '#lib/viability/straight-line.ts'

/** Where a stint's temperature comes from. */
export type TemperatureBasis = 'logger' | 'typed' | 'assumed'

/** A lot's stay in one place. `to` is null while it is still there. */
export interface StorageStint {
  readonly from: Date
  readonly to: Date | null
  readonly celsius: CelsiusRange
  readonly basis: TemperatureBasis
}

/** A time at one temperature range; the last one has no end. */
export interface StorageSegment {
  readonly fromMs: number
  readonly toMs: number
  readonly celsius: CelsiusRange
  readonly basis: TemperatureBasis
  /** Time that no stint accounts for. */
  readonly isGap: boolean
}

/** What was asked does not describe wood that could exist. `stint` is a place in the list as it was given. */
export type StorageHistoryRefusal =
  | { readonly kind: 'refused'; readonly reason: 'not-a-date'; readonly stint: number | null }
  | { readonly kind: 'refused'; readonly reason: 'cut-in-future'; readonly cutAt: Date; readonly asOf: Date }
  | { readonly kind: 'refused'; readonly reason: 'stint-before-cut'; readonly stint: number }
  | { readonly kind: 'refused'; readonly reason: 'stint-ends-before-it-starts'; readonly stint: number }
  | {
      readonly kind: 'refused'
      readonly reason: 'stints-overlap'
      readonly stints: readonly [number, number]
    }
  | { readonly kind: 'refused'; readonly reason: 'temperature-out-of-order'; readonly stint: number }
  | {
      readonly kind: 'refused'
      readonly reason: 'absurd-temperature'
      readonly celsius: number
      readonly stint: number | null
    }
  | { readonly kind: 'refused'; readonly reason: 'not-a-bud-stage'; readonly budStage: number }

export interface StorageHistory {
  readonly kind: 'history'
  readonly segments: readonly StorageSegment[]
  /** The last stint ended before the day asked about, so nobody has said where the wood is now. */
  readonly isWhereaboutsUnknown: boolean
}

export interface StorageHistoryInput {
  readonly cutAt: Date
  readonly stints: readonly StorageStint[]
  readonly asOf: Date
  /** °C from `asOf` on, in place of what the record says: "if kept at". */
  readonly keptAt?: number
}

/** Carrying a bag from one store to the next is not a hole in the record. */
export const longestBridgeMs = 6 * 3_600_000
/** Dates are refused this close to the ends of what a Date can hold, ms: a limit after them would not be one. */
const farthestMs = 8.6e15

/** No place where wood is kept is outside this range, °C: a slipped minus sign, or °F typed as °C. */
const plausibleCelsius = { low: -40, high: 50 }

/** False for NaN as well. */
const isPlausible = (celsius: number) => celsius >= plausibleCelsius.low && celsius <= plausibleCelsius.high
/** False for an invalid date as well. */
const isDate = (date: Date) => Math.abs(date.getTime()) <= farthestMs

function refuseStint(stint: StorageStint, at: number, cutAt: Date): StorageHistoryRefusal | null {
  const { from, to, celsius } = stint
  if (!isDate(from) || (to && !isDate(to))) return { kind: 'refused', reason: 'not-a-date', stint: at }
  const absurd = [celsius.low, celsius.mid, celsius.high].find((value) => !isPlausible(value))
  if (absurd !== undefined) {
    return { kind: 'refused', reason: 'absurd-temperature', celsius: absurd, stint: at }
  }
  if (celsius.low > celsius.mid || celsius.mid > celsius.high) {
    return { kind: 'refused', reason: 'temperature-out-of-order', stint: at }
  }
  if (to && to < from) return { kind: 'refused', reason: 'stint-ends-before-it-starts', stint: at }
  if (from < cutAt) return { kind: 'refused', reason: 'stint-before-cut', stint: at }
  return null
}

function refuseInput({ cutAt, stints, asOf, keptAt }: StorageHistoryInput): StorageHistoryRefusal | null {
  if (!isDate(cutAt) || !isDate(asOf)) return { kind: 'refused', reason: 'not-a-date', stint: null }
  if (cutAt > asOf) return { kind: 'refused', reason: 'cut-in-future', cutAt, asOf }
  if (keptAt !== undefined && !isPlausible(keptAt)) {
    return { kind: 'refused', reason: 'absurd-temperature', celsius: keptAt, stint: null }
  }
  for (const [at, stint] of stints.entries()) {
    const refusal = refuseStint(stint, at, cutAt)
    if (refusal) return refusal
  }
  return null
}

const gap = (fromMs: number, toMs: number): StorageSegment => ({
  fromMs,
  toMs,
  celsius: unknownRoomCelsius,
  basis: 'assumed',
  isGap: true,
})

/** The weaker of what two temperatures rest on. */
function weakerOf(a: TemperatureBasis, b: TemperatureBasis): TemperatureBasis {
  if (a === 'assumed' || b === 'assumed') return 'assumed'
  return a === 'logger' ? b : a
}

/** A short time between two stints, on a straight line from one temperature to the other. */
const bridge = (before: StorageSegment, after: StorageSegment): StorageSegment[] =>
  straightLine(
    { ms: before.toMs, celsius: before.celsius },
    { ms: after.fromMs, celsius: after.celsius },
  ).map((piece) => ({ ...piece, basis: weakerOf(before.basis, after.basis), isGap: false }))

/** Neighbours that say the same become one, so that a stint recorded as two is the same history to the last bit. */
function joinEqual(segments: readonly StorageSegment[]): StorageSegment[] {
  const joined: StorageSegment[] = []
  for (const segment of segments) {
    const previous = joined.at(-1)
    const { celsius, basis, isGap } = segment
    const isSame =
      previous?.basis === basis &&
      previous.isGap === isGap &&
      previous.celsius.low === celsius.low &&
      previous.celsius.mid === celsius.mid &&
      previous.celsius.high === celsius.high
    if (isSame) joined.pop()
    joined.push(isSame ? { ...segment, fromMs: previous.fromMs } : segment)
  }
  return joined
}

/**
 * The stints in order of time, those without length left out. Up to six hours between two of them are interpolated;
 * more, and any time before the first, is a gap.
 */
function fillGaps(cutAt: Date, stints: readonly StorageStint[]): StorageSegment[] | StorageHistoryRefusal {
  const ordered = stints
    .map((stint, at) => ({ at, fromMs: stint.from.getTime(), toMs: stint.to?.getTime() ?? Infinity, stint }))
    .filter(({ fromMs, toMs }) => toMs > fromMs)
    .sort((a, b) => a.fromMs - b.fromMs || a.at - b.at)
  const segments: StorageSegment[] = []
  let reachedMs = cutAt.getTime()
  let previousAt = -1
  for (const { at, fromMs, toMs, stint } of ordered) {
    if (fromMs < reachedMs) return { kind: 'refused', reason: 'stints-overlap', stints: [previousAt, at] }
    const segment = { fromMs, toMs, celsius: stint.celsius, basis: stint.basis, isGap: false }
    const previous = segments.at(-1)
    if (previous && fromMs - reachedMs <= longestBridgeMs) segments.push(...bridge(previous, segment))
    else if (fromMs > reachedMs) segments.push(gap(reachedMs, fromMs))
    segments.push(segment)
    reachedMs = toMs
    previousAt = at
  }
  return segments
}

export const isLongGap = ({ fromMs, toMs, isGap }: StorageSegment): boolean =>
  isGap && toMs - fromMs > longestBridgeMs

/** Whether a temperature that matters is only assumed: a stint without a reading, or a gap longer than a journey. */
export const isAssumption = (segment: StorageSegment): boolean =>
  segment.isGap ? isLongGap(segment) : segment.basis === 'assumed'

/** The segments up to `asOfMs`, and one temperature from there on. */
function continueAt(segments: readonly StorageSegment[], asOfMs: number, celsius: number): StorageSegment[] {
  const past = segments
    .filter(({ fromMs }) => fromMs < asOfMs)
    .map((segment) => ({ ...segment, toMs: Math.min(segment.toMs, asOfMs) }))
  const kept = { low: celsius, mid: celsius, high: celsius }
  return [...past, { fromMs: asOfMs, toMs: Infinity, celsius: kept, basis: 'typed', isGap: false }]
}

/**
 * Everything that has happened to a lot since it was cut, and what is taken to happen next, without gaps. More than
 * six hours that no stint covers count as a place nobody has read; less is a straight line from stint to stint. From the end of the record on, the last stint goes
 * on if it lasted until `asOf` or later; otherwise the wood is somewhere unknown. `keptAt` replaces all that
 * lies after `asOf`.
 */
export function storageHistory(input: StorageHistoryInput): StorageHistory | StorageHistoryRefusal {
  const { cutAt, stints, asOf, keptAt } = input
  const refusal = refuseInput(input)
  if (refusal) return refusal
  const recorded = fillGaps(cutAt, stints)
  if ('kind' in recorded) return recorded
  const asOfMs = asOf.getTime()
  const last = recorded.at(-1)
  const isOver = last === undefined || last.toMs < asOfMs
  const isWhereaboutsUnknown = last !== undefined && isOver && keptAt === undefined
  const segments =
    last === undefined || isOver
      ? [...recorded, gap(last?.toMs ?? cutAt.getTime(), Infinity)]
      : [...recorded.slice(0, -1), { ...last, toMs: Infinity }]
  return {
    kind: 'history',
    segments: joinEqual(keptAt === undefined ? segments : continueAt(segments, asOfMs, keptAt)),
    isWhereaboutsUnknown,
  }
}
