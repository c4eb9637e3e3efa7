import { advanceBuds, type BudClock, type BudState, budsAtCut } from '#lib/viability/bud-clock.ts'
import type { Stretch } from '#lib/viability/stretches.ts'

/** Buds that somebody looked at in store: when, in hours since the cut, and how far they were, as a share. */
export interface SeenBuds {
  readonly hour: number
  readonly progress: number
}

/** From where buds are followed: how they stand, and what happens to them from then on. */
export interface BudStart {
  readonly clock: BudClock
  readonly hour: number
  readonly buds: BudState
  readonly stretches: readonly Stretch[]
}

export const startAtCut = (clock: BudClock, stretches: readonly Stretch[]): BudStart => ({
  clock,
  hour: 0,
  buds: budsAtCut,
  stretches,
})

const from = (stretches: readonly Stretch[], hour: number): Stretch[] =>
  stretches
    .filter(({ to }) => to > hour)
    .map((stretch) => (stretch.from < hour ? { ...stretch, from: hour } : stretch))

/**
 * Buds from the moment they were seen on: their stage tells what all the warmth until then has done, so the warmth is
 * counted anew from there; chilling goes on as the record has it. Stages are read with the margin that the run keeps
 * at the cut. A look before the cut counts at it. A convention of this program.
 */
export function startWhenSeen(
  clock: BudClock,
  stretches: readonly Stretch[],
  { hour, progress }: SeenBuds,
): BudStart {
  const seenAt = Math.max(0, hour)
  let buds = budsAtCut
  for (const stretch of stretches) {
    if (stretch.from >= seenAt) break
    buds = advanceBuds(clock, buds, stretch.celsius, [stretch.from, Math.min(stretch.to, seenAt)])
  }
  return {
    clock: { ...clock, progressAtCut: Math.min(1, progress + clock.scenario.budMarginAtCut) },
    hour: seenAt,
    buds: { ...buds, forcedHours: 0 },
    stretches: from(stretches, seenAt),
  }
}
