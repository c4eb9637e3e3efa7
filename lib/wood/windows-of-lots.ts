import type { CivilDate } from '#lib/kernel/civil-date.ts'
import type { Database } from '#lib/platform/database/database.ts'
import type { LotKind, Packaging } from '#lib/platform/generated/enums.ts'
import { dayClock } from '#lib/wood/day-clock.ts'
import { readingDays, type StayRow, stayRows } from '#lib/wood/lot-rows.ts'
import type { DayOfReadings } from '#lib/wood/temperature-of-stay.ts'
import { type LotWindow, type NoWindow, windowOfLot } from '#lib/wood/window-of-lot.ts'

/** What has to be known of a lot beside where it has been. */
export interface LotFacts {
  readonly lotId: string
  readonly kind: LotKind
  readonly cutOn: CivilDate
  readonly storageProfile: string | null
  /** How it is packed and how its buds were, read with its stays where it is left out. */
  readonly packaging?: Packaging
  readonly budStage?: number
}

export interface KeptLot {
  readonly window: LotWindow | NoWindow
  readonly stays: readonly StayRow[]
}

export interface KeptLots {
  /** By lot id. Every lot that was asked for is there. */
  readonly byLot: ReadonlyMap<string, KeptLot>
  readonly readings: readonly DayOfReadings[]
}

/** The windows of many lots, in two statements whatever their number. */
export async function windowsOfLots(
  db: Database,
  groupId: string,
  timeZone: string,
  lots: readonly LotFacts[],
): Promise<KeptLots> {
  const stays = await stayRows(
    db.prisma,
    groupId,
    lots.map((lot) => lot.lotId),
  )
  const readings = await readingDays(db.prisma, groupId, stays)
  const staysByLot = new Map<string, StayRow[]>()
  for (const stay of stays) {
    const earlier = staysByLot.get(stay.lotId)
    if (earlier) earlier.push(stay)
    else staysByLot.set(stay.lotId, [stay])
  }
  const asOf = { clock: dayClock(timeZone), readings, now: db.now() }
  const byLot = new Map<string, KeptLot>()
  for (const lot of lots) {
    const own = staysByLot.get(lot.lotId) ?? []
    const window = windowOfLot({ ...own[0], ...lot, stays: own }, asOf)
    byLot.set(lot.lotId, { window, stays: own })
  }
  return { byLot, readings }
}
