import { advanceBuds, type BudClock, budShare, budsAtCut } from '#lib/viability/bud-clock.ts'
import type { Stretch } from '#lib/viability/stretches.ts'

/** How far buds are on the way to bud break at an hour since the cut, as a share; above 1 once they have broken. */
export function budShareAt(clock: BudClock, stretches: readonly Stretch[], hour: number): number {
  let buds = budsAtCut
  for (const { from, to, celsius } of stretches) {
    if (from >= hour) break
    buds = advanceBuds(clock, buds, celsius, [from, Math.min(to, hour)])
  }
  return budShare(clock, buds)
}
