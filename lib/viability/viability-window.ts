import { budProgressAtStage } from '#lib/viability/bud-stage.ts'
import type { Packaging } from '#lib/viability/packaging.ts'
import { runClocks } from '#lib/viability/run-clocks.ts'
import { type ScenarioName, scenarios } from '#lib/viability/scenarios.ts'
import {
  isAssumption,
  type StorageHistoryInput,
  type StorageHistoryRefusal,
  type StorageSegment,
  storageHistory,
} from '#lib/viability/storage-history.ts'
import type { EvidenceGrade, StorageProfile } from '#lib/viability/storage-profiles.ts'
import type { StorageSourceKey } from '#lib/viability/storage-sources.ts'
import { hoursSince, stretchesOf } from '#lib/viability/stretches.ts'
import { type WindowFlag, windowFlags } from '#lib/viability/window-flags.ts'

export type { WindowFlag }

/**
 * What can be said to end a stick's life. A window is limited by its reserve, its buds or its water; frost and cold
 * that hurts evergreens are flags, because wood after them is to be looked at and need not be dead.
 */
export type LimitingClock = 'reserve' | 'bud-break' | 'water' | 'freeze' | 'chilling'

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
  /**
   * Share of each clock gone at `asOf` in the likely run; above 1 once it has run out. Bud break is 0 in wood without
   * dormant buds, whose profile has no forcing hours.
   */
  readonly used: { readonly reserve: number; readonly budBreak: number; readonly water: number }
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
  /** How the sticks are packed. Without it a sealed bag is assumed, and a flag says so. */
  readonly packaging?: Packaging
  /** The stage of the buds at the cut on the BBCH scale, 0 to 99. Without it they are taken to be tight. */
  readonly budStage?: number
  /** How the buds looked since: the moment, and the stage on the BBCH scale. A look can only shorten the window. */
  readonly observedBuds?: readonly { readonly at: Date; readonly budStage: number }[]
  /** Whether ripening fruit lies in the same store. */
  readonly nearRipeningFruit?: boolean
}

const hourMs = 3_600_000

function basisOf(profile: StorageProfile, segments: readonly StorageSegment[]): 'A' | 'B' | 'C' {
  if (profile.grade === 'convention' || segments.some(isAssumption)) return 'C'
  const isLogged = segments.every(({ basis, isGap }) => basis === 'logger' || isGap)
  return isLogged && profile.hasStorageTrial ? 'A' : 'B'
}

const isBudStage = (stage: number) => Number.isInteger(stage) && stage >= 0 && stage <= 99

/**
 * How long a lot keeps: three moments, from the cut date and everywhere it has been since. Three clocks run from the
 * cut, and the first to run down is the limit: the food reserve, the buds on their way to opening, and the water that
 * the packaging lets out. The early run reads the warm end of each temperature and makes every cautious choice, the
 * late run the cold end and every generous one, so the three are an envelope and not a confidence interval. Each run
 * goes through the whole history from the cut; a time at one temperature costs the same however long it is.
 *
 * Impossible input is refused with a reason. Dates known to the day are best put at noon. No published equation for
 * the life of scion wood was found: the constants are conventions, and pages must say so beside the window.
 *
 * @example
 * // Apple at a steady 4 °C: 70, 125 and 218 days from the cut.
 * viabilityWindow({ profile, cutAt, stints: [{ from: cutAt, to: null, celsius, basis: 'typed' }], asOf })
 */
export function viabilityWindow(input: ViabilityWindowInput): ViabilityWindow | StorageHistoryRefusal {
  const { profile, cutAt, asOf, stints, packaging, budStage = 0, observedBuds = [] } = input
  const unknownStage = [budStage, ...observedBuds.map((seen) => seen.budStage)].find(
    (stage) => !isBudStage(stage),
  )
  if (unknownStage !== undefined)
    return { kind: 'refused', reason: 'not-a-bud-stage', budStage: unknownStage }
  if (observedBuds.some(({ at }) => Number.isNaN(at.getTime()))) {
    return { kind: 'refused', reason: 'not-a-date', stint: null }
  }
  const history = storageHistory(input)
  if (history.kind === 'refused') return history
  const { segments } = history
  const wood = {
    profile,
    packaging: packaging ?? 'sealed_bag',
    budProgress: budProgressAtStage(budStage),
    seenBuds: observedBuds.map((seen) => ({
      hour: hoursSince(cutAt, seen.at.getTime()),
      progress: budProgressAtStage(seen.budStage),
    })),
  } as const
  const run = (name: ScenarioName) =>
    runClocks(wood, scenarios[name], stretchesOf(segments, cutAt, scenarios[name]))
  const runs = { early: run('early'), likely: run('likely'), late: run('late') }
  const limit = (name: ScenarioName): WindowLimit => {
    const { hour, limitedBy } = runs[name].end()
    return { at: new Date(cutAt.getTime() + Math.round(hour * hourMs)), limitedBy }
  }
  return {
    kind: 'window',
    early: limit('early'),
    likely: limit('likely'),
    late: limit('late'),
    used: runs.likely.usedAt(hoursSince(cutAt, asOf.getTime())),
    flags: windowFlags({
      profile,
      history,
      cutAt,
      asOf,
      hasStore: stints.length > 0 || input.keptAt !== undefined,
      hasPackaging: packaging !== undefined,
      isDampAndSealed: packaging === 'sealed_damp',
      isNearRipeningFruit: input.nearRipeningFruit ?? false,
      earlyRun: runs.early,
    }),
    evidence: { grade: profile.grade, basis: basisOf(profile, segments), sources: profile.sources },
  }
}
