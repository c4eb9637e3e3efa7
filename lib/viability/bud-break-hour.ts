import { budBreakWithin } from '#lib/viability/bud-break-within.ts'
import { advanceBuds, type BudClock, budsAtCut } from '#lib/viability/bud-clock.ts'
import type { Stretch } from '#lib/viability/stretches.ts'

/** When buds break, in hours since the cut; null if they do not before `until`. */
export function budBreakHour(clock: BudClock, stretches: readonly Stretch[], until: number): number | null {
  let buds = budsAtCut
  for (const { from, to, celsius } of stretches) {
    if (from >= until) break
    const stretch = [from, Math.min(to, until)] as const
    const hour = budBreakWithin(clock, buds, celsius, stretch)
    if (hour !== null) return hour
    buds = advanceBuds(clock, buds, celsius, stretch)
  }
  return null
}
