import type { ClockRun } from '#lib/viability/run-clocks.ts'
import { isAssumption, isLongGap, type StorageHistory } from '#lib/viability/storage-history.ts'
import type { StorageProfile } from '#lib/viability/storage-profiles.ts'
import { hoursSince } from '#lib/viability/stretches.ts'

/** What a reader of the window must be told beside it. None of them says that the wood is dead. */
export type WindowFlag =
  /** The plant is not in the table: the cautious profile was used. */
  | 'unknown-group'
  /** Nobody has recorded any store. */
  | 'no-store-recorded'
  /** More than six hours are not accounted for. */
  | 'gap-in-record'
  /** A temperature in the record is an assumption. */
  | 'temperature-assumed'
  /** The last stint ended before the day asked about. */
  | 'whereabouts-unknown'
  /** Nobody has recorded how the sticks are packed: a sealed bag was assumed. */
  | 'packaging-not-recorded'
  /** The buds were open when the wood was cut: it cannot be kept as dormant wood. */
  | 'buds-open-at-cut'
  /** At some time as cold as can hurt wood that stood as it did: look at it before using it. */
  | 'inspect-after-frost'
  /** Evergreen wood in a store colder than suits it: chilling can hurt it. */
  | 'too-cold-for-evergreen'
  /** Ripening fruit gives off ethylene, which has hurt apple scions sealed in with it. */
  | 'ripening-fruit-nearby'
  /** A damp wrapping in a sealed bag: surface mould follows free water. */
  | 'watch-for-mould'
  /** Above 30 °C or below −2 °C the model is stretched beyond what supports it. */
  | 'outside-model-range'

/** What the flags are raised on. */
export interface FlagGrounds {
  readonly profile: StorageProfile
  readonly history: StorageHistory
  readonly cutAt: Date
  readonly asOf: Date
  readonly hasStore: boolean
  readonly hasPackaging: boolean
  readonly isDampAndSealed: boolean
  readonly isNearRipeningFruit: boolean
  readonly earlyRun: ClockRun
}

/** From half way to bud break on, buds count as swollen. */
const swollenShare = 0.5
const modelRangeC = { low: -2, high: 30 }

/**
 * Whether there was frost that hurts swollen buds while the early run had them swollen. Buds never go back, so the last
 * time that was cold enough decides: reckoned at its end, and for one that goes on at the later of its beginning and
 * the day asked about.
 */
function wasFrostOnSwollenBuds({ profile, history, cutAt, asOf, earlyRun }: FlagGrounds): boolean {
  const cold = history.segments.findLast(({ celsius }) => celsius.low <= profile.inspectSwollenBelowC)
  if (!cold) return false
  const atMs = cold.toMs === Infinity ? Math.max(cold.fromMs, asOf.getTime()) : cold.toMs
  return earlyRun.usedAt(hoursSince(cutAt, atMs)).budBreak >= swollenShare
}

/** The flags of a window, in the order in which they are declared. */
export function windowFlags(grounds: FlagGrounds): WindowFlag[] {
  const { profile, earlyRun } = grounds
  const { segments, isWhereaboutsUnknown } = grounds.history
  const lowest = Math.min(...segments.map(({ celsius }) => celsius.low))
  const highest = Math.max(...segments.map(({ celsius }) => celsius.high))
  const flags: readonly (readonly [WindowFlag, boolean])[] = [
    ['unknown-group', profile.key === 'unknown_decid'],
    ['no-store-recorded', !grounds.hasStore],
    ['gap-in-record', segments.some((segment) => isLongGap(segment) && segment.toMs !== Infinity)],
    ['temperature-assumed', segments.some(isAssumption)],
    ['whereabouts-unknown', isWhereaboutsUnknown],
    ['packaging-not-recorded', !grounds.hasPackaging],
    ['buds-open-at-cut', earlyRun.usedAt(0).budBreak >= 1],
    ['inspect-after-frost', lowest <= profile.inspectDormantBelowC || wasFrostOnSwollenBuds(grounds)],
    ['too-cold-for-evergreen', profile.evergreen && lowest < profile.reserveFloorC],
    ['ripening-fruit-nearby', grounds.isNearRipeningFruit],
    ['watch-for-mould', grounds.isDampAndSealed],
    ['outside-model-range', lowest < modelRangeC.low || highest > modelRangeC.high],
  ]
  return flags.filter(([, isRaised]) => isRaised).map(([flag]) => flag)
}
