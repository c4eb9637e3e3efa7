import { budBreakWithin } from '#lib/viability/bud-break-within.ts'
import { advanceBuds } from '#lib/viability/bud-clock.ts'
import type { BudStart } from '#lib/viability/seen-buds.ts'

/** When buds break, in hours since the cut; null if they do not before `until`. */
export function budBreakHour(start: BudStart, until: number): number | null {
  const { clock, stretches } = start
  let { buds } = start
  for (const { from, to, celsius } of stretches) {
    if (from >= until) break
    const stretch = [from, Math.min(to, until)] as const
    const hour = budBreakWithin(clock, buds, celsius, stretch)
    if (hour !== null) return hour
    buds = advanceBuds(clock, buds, celsius, stretch)
  }
  return null
}
