import { reserveSharePerDay } from '#lib/viability/reserve-clock.ts'
import { type Scenario, scenarios } from '#lib/viability/scenarios.ts'
import {
  type StorageHistory,
  type StorageHistoryInput,
  type StorageHistoryRefusal,
  type StorageSegment,
  storageHistory,
} from '#lib/viability/storage-history.ts'
import type { EvidenceGrade, StorageProfile } from '#lib/viability/storage-profiles.ts'
import type { StorageSourceKey } from '#lib/viability/storage-sources.ts'

/** What can end a stick's life. Only `reserve` is reckoned with as yet. */
export type LimitingClock = 'reserve' | 'bud-break' | 'water' | 'freeze' | 'chilling'

/** What a reader of the window must be told beside it. */
export type WindowFlag =
  /** Buds may open before the reserve is spent, most of all above 4 °C; this window does not reckon with it. */
  | 'bud-break-not-counted'
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
  /** Colder than the group's limit for dormant wood at some time: look at the wood before using it. */
  | 'inspect-after-frost'
  /** Evergreen wood in a store colder than suits it. */
  | 'too-cold-for-evergreen'
  /** Above 30 °C or below −2 °C the model is stretched beyond what supports it. */
  | 'outside-model-range'

/** A moment at which a stick is taken to be spent, and by what. */
export interface WindowLimit {
  readonly at: Date
  readonly limitedBy: LimitingClock
}

export interface ViabilityWindow {
  readonly kind: 'window'
  readonly early: WindowLimit
  readonly likely: WindowLimit
  readonly late: WindowLimit
  /** Share of each clock gone at `asOf` in the likely run; above 1 once it has run out. */
  readonly used: { readonly reserve: number }
  readonly flags: readonly WindowFlag[]
  readonly evidence: {
    readonly grade: EvidenceGrade
    /** A: a logger, and a group with a storage trial. B: typed temperatures. C: something is only assumed. */
    readonly basis: 'A' | 'B' | 'C'
    readonly sources: readonly StorageSourceKey[]
  }
}

export interface ViabilityWindowInput extends StorageHistoryInput {
  readonly profile: StorageProfile
}

const dayMs = 86_400_000
/** Carrying a bag from one store to the next is not a hole in the record. */
const negligibleGapMs = 6 * 3_600_000
const modelRangeC = { low: -2, high: 30 }

/** When the reserve is spent. The last segment has no end and every rate is above zero, so there is an answer. */
function reserveLimit(
  profile: StorageProfile,
  scenario: Scenario,
  segments: readonly StorageSegment[],
): Date {
  let left = 1
  for (const { fromMs, toMs, celsius } of segments) {
    const sharePerMs = reserveSharePerDay(profile, scenario, celsius[scenario.reads]) / dayMs
    const spentMs = fromMs + left / sharePerMs
    if (spentMs <= toMs) return new Date(Math.round(spentMs))
    left -= sharePerMs * (toMs - fromMs)
  }
  throw new Error('The history of a lot ended')
}

/** Share of the reserve burnt by `asOf`. */
function reserveUsed(
  profile: StorageProfile,
  scenario: Scenario,
  segments: readonly StorageSegment[],
  asOf: Date,
): number {
  return segments.reduce((used, { fromMs, toMs, celsius }) => {
    const days = Math.max(0, Math.min(toMs, asOf.getTime()) - fromMs) / dayMs
    return used + days * reserveSharePerDay(profile, scenario, celsius[scenario.reads])
  }, 0)
}

const isLongGap = ({ fromMs, toMs, isGap }: StorageSegment) => isGap && toMs - fromMs > negligibleGapMs

/** Assumed temperatures that matter: stints without a reading, and gaps longer than a journey. */
const isAssumption = (segment: StorageSegment) =>
  segment.isGap ? isLongGap(segment) : segment.basis === 'assumed'

function flagsOf(input: ViabilityWindowInput, history: StorageHistory): WindowFlag[] {
  const { profile, stints, keptAt } = input
  const { segments, isWhereaboutsUnknown } = history
  const lowest = Math.min(...segments.map(({ celsius }) => celsius.low))
  const highest = Math.max(...segments.map(({ celsius }) => celsius.high))
  const flags: readonly (readonly [WindowFlag, boolean])[] = [
    ['bud-break-not-counted', profile.forcingHours !== null],
    ['unknown-group', profile.key === 'unknown_decid'],
    ['no-store-recorded', stints.length === 0 && keptAt === undefined],
    ['gap-in-record', segments.some((segment) => isLongGap(segment) && segment.toMs !== Infinity)],
    ['temperature-assumed', segments.some(isAssumption)],
    ['whereabouts-unknown', isWhereaboutsUnknown],
    ['inspect-after-frost', lowest <= profile.inspectDormantBelowC],
    ['too-cold-for-evergreen', profile.evergreen && lowest < profile.reserveFloorC],
    ['outside-model-range', lowest < modelRangeC.low || highest > modelRangeC.high],
  ]
  return flags.filter(([, isRaised]) => isRaised).map(([flag]) => flag)
}

function basisOf(profile: StorageProfile, segments: readonly StorageSegment[]): 'A' | 'B' | 'C' {
  if (profile.grade === 'convention' || segments.some(isAssumption)) return 'C'
  const isLogged = segments.every(({ basis, isGap }) => basis === 'logger' || isGap)
  return isLogged && profile.hasStorageTrial ? 'A' : 'B'
}

/**
 * How long a lot keeps: three moments, from the cut date and everywhere it has been since. The early run reads
 * the warm end of each temperature and the shortest life, the late run the cold end and the longest, so the
 * three are an envelope and not a confidence interval. Each run goes through the whole history from the cut.
 *
 * This version runs one clock of the model, the food reserve, in closed form. Impossible input is refused with
 * a reason. Dates known to the day are best put at noon. No published equation for the life of scion wood was
 * found: the constants are conventions, and pages must say so beside the window.
 *
 * @example
 * // Apple at a steady 4 °C: 70, 125 and 218 days from the cut.
 * viabilityWindow({ profile, cutAt, stints: [{ from: cutAt, to: null, celsius, basis: 'typed' }], asOf })
 */
export function viabilityWindow(input: ViabilityWindowInput): ViabilityWindow | StorageHistoryRefusal {
  const { profile, asOf } = input
  const history = storageHistory(input)
  if (history.kind === 'refused') return history
  const { segments } = history
  const limit = (scenario: Scenario): WindowLimit => ({
    at: reserveLimit(profile, scenario, segments),
    limitedBy: 'reserve',
  })
  return {
    kind: 'window',
    early: limit(scenarios.early),
    likely: limit(scenarios.likely),
    late: limit(scenarios.late),
    used: { reserve: reserveUsed(profile, scenarios.likely, segments, asOf) },
    flags: flagsOf(input, history),
    evidence: {
      grade: profile.grade,
      basis: basisOf(profile, segments),
      sources: profile.sources,
    },
  }
}
