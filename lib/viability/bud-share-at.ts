import { advanceBuds, budShare } from '#lib/viability/bud-clock.ts'
import type { BudStart } from '#lib/viability/seen-buds.ts'

/**
 * How far buds are on the way to bud break at an hour since the cut, as a share; above 1 once they have broken. 0 at an
 * hour before they are followed.
 */
export function budShareAt(start: BudStart, hour: number): number {
  if (hour < start.hour) return 0
  let { buds } = start
  for (const { from, to, celsius } of start.stretches) {
    if (from >= hour) break
    buds = advanceBuds(start.clock, buds, celsius, [from, Math.min(to, hour)])
  }
  return budShare(start.clock, buds)
}
