import type { CivilDate } from '#lib/kernel/civil-date.ts'
import type { Queries } from '#lib/platform/database/database.ts'
import type { LotKind, Packaging } from '#lib/platform/generated/enums.ts'
import { type ObservedBuds, observedBuds } from '#lib/wood/inspections.ts'
import { type StayRow, stayRows } from '#lib/wood/lot-rows.ts'
import { type ReadingsByStore, readingHours } from '#lib/wood/reading-hours.ts'

/** What has to be known of a lot beside where it has been. */
export interface LotFacts {
  readonly lotId: string
  readonly kind: LotKind
  readonly cutOn: CivilDate
  readonly storageProfile: string | null
  readonly packaging: Packaging
  readonly budStage: number
}

/** Lots with where they have been, how their buds looked there, and what was read there. */
export interface LotRecords {
  /** Lots with their stays, in the order in which they were asked for. */
  readonly lots: readonly (LotFacts & {
    readonly stays: readonly StayRow[]
    readonly observedBuds: readonly ObservedBuds[]
  })[]
  readonly readings: ReadingsByStore
}

/** Everything that the windows of some lots are worked out from, in three statements whatever their number. */
export async function recordsOfLots(
  tx: Queries,
  groupId: string,
  facts: readonly LotFacts[],
): Promise<LotRecords> {
  const lotIds = facts.map((lot) => lot.lotId)
  const stays = await stayRows(tx, groupId, lotIds)
  const buds = await observedBuds(tx, groupId, lotIds)
  const readings = await readingHours(tx, groupId, stays)
  const staysByLot = new Map<string, StayRow[]>()
  for (const stay of stays) {
    const earlier = staysByLot.get(stay.lotId)
    if (earlier) earlier.push(stay)
    else staysByLot.set(stay.lotId, [stay])
  }
  const lots = facts.map((lot) => ({
    ...lot,
    stays: staysByLot.get(lot.lotId) ?? [],
    observedBuds: buds.get(lot.lotId) ?? [],
  }))
  return { lots, readings }
}
