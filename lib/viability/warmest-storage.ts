import type { ScenarioName } from '#lib/viability/scenarios.ts'
import type { StorageHistoryRefusal } from '#lib/viability/storage-history.ts'
import { type ViabilityWindowInput, viabilityWindow } from '#lib/viability/viability-window.ts'

export interface WarmestStorageInput
  extends Pick<ViabilityWindowInput, 'profile' | 'packaging' | 'budStage' | 'cutAt'> {
  /** When the wood is wanted. */
  readonly neededAt: Date
  /** Which of the three limits it must not have reached by then. */
  readonly before?: ScenarioName
}

export type WarmestStorage =
  | { readonly kind: 'celsius'; readonly celsius: number }
  /** Not even the coldest store that suits the group is enough; `keepsUntil` is how far that reaches. */
  | { readonly kind: 'not-long-enough'; readonly coldestC: number; readonly keepsUntil: Date }

/** Temperatures are tried in tenths of a degree, and up to where the model is supported. */
const tenths = 10
const warmestC = 25

/**
 * The warmest steady temperature (°C, in tenths) at which wood cut on one day has not reached a limit of its window on
 * another, its early limit unless said otherwise. No colder store is proposed than keeps the group longer, nor one
 * that hurts it. Impossible input is refused with a reason.
 */
export function warmestStorageFor(input: WarmestStorageInput): WarmestStorage | StorageHistoryRefusal {
  const { neededAt, before = 'early', ...wood } = input
  const { cutAt, profile } = wood
  if (neededAt < cutAt) return { kind: 'refused', reason: 'cut-in-future', cutAt, asOf: neededAt }
  if (Number.isNaN(neededAt.getTime())) return { kind: 'refused', reason: 'not-a-date', stint: null }
  const coldestC = profile.reserveFloorC
  const windowAt = (celsius: number) => viabilityWindow({ ...wood, asOf: cutAt, stints: [], keptAt: celsius })
  const coldest = windowAt(coldestC)
  if (coldest.kind === 'refused') return coldest
  const lasts = (step: number): boolean => {
    const window = windowAt(step / tenths)
    return window.kind === 'window' && neededAt < window[before].at
  }
  let [enough, tooWarm] = [coldestC * tenths, warmestC * tenths + 1]
  if (!lasts(enough)) return { kind: 'not-long-enough', coldestC, keepsUntil: coldest[before].at }
  while (tooWarm - enough > 1) {
    const middle = Math.floor((enough + tooWarm) / 2)
    if (lasts(middle)) enough = middle
    else tooWarm = middle
  }
  return { kind: 'celsius', celsius: enough / tenths }
}
