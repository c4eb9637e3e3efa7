import type { Actor } from '#lib/access/actor.ts'
import { can } from '#lib/access/policy.ts'
import { type CodeRefusal, parseCode } from '#lib/grafting/codes.ts'
import { required } from '#lib/kernel/assert.ts'
import { type CivilDate, civilDateOf, utcMidnight } from '#lib/kernel/civil-date.ts'
import { isUuid } from '#lib/kernel/id.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { dayClock } from '#lib/wood/day-clock.ts'
import { groupYear } from '#lib/wood/group-year.ts'
import { listPage } from '#lib/wood/list-page.ts'
import { type LotRow, lotRows, type StayRow } from '#lib/wood/lot-rows.ts'
import { holdsOnLot, movesOfLot, offeringsOfLot } from '#lib/wood/lot-story.ts'
import { mayTendLot } from '#lib/wood/may-tend.ts'
import { projectMissing } from '#lib/wood/project-windows.ts'
import { recordsOfLots } from '#lib/wood/records-of-lots.ts'
import { seasonStarting, seasonStartYear } from '#lib/wood/season.ts'
import { seasonTotals } from '#lib/wood/season-totals.ts'
import { storedWindows, toWindow } from '#lib/wood/stored-windows.ts'
import { daysOfStay, temperatureOfStay } from '#lib/wood/temperature-of-stay.ts'
import {
  type LotView,
  type OfferableLot,
  type OfferingOfLot,
  type SessionView,
  type StayView,
  type StoreChoice,
  stickSums,
  toWoodRow,
  type WoodList,
  type WoodSort,
  type WoodState,
} from '#lib/wood/view.ts'
import { type KeepingAsOf, lengtheningOfLot, narrowingOfLot, windowOfLot } from '#lib/wood/window-of-lot.ts'

export interface WoodListFilter {
  /** Key of a taxon, or `unnamed`. */
  readonly crop?: string | undefined
  readonly store?: string | undefined
  readonly state?: WoodState | undefined
  readonly sort?: WoodSort | undefined
  /** The year in which the season begins; the present one when left out. */
  readonly season?: number | undefined
  readonly page?: number | undefined
}

/**
 * The lots of a season, by default those with sticks in a store and what must be used first at the top. Four statements
 * whatever the number of lots; more only where a window was never worked out.
 */
export async function listWood(db: Database, actor: Actor, filter: WoodListFilter = {}): Promise<WoodList> {
  const { groupId } = actor
  const year = await groupYear(db, groupId)
  const season = seasonStarting(filter.season ?? seasonStartYear(year.today))
  const state = filter.state ?? 'kept'
  const sort = filter.sort ?? 'first'
  const isUnnamed = filter.crop === 'unnamed'
  const { withoutWindow, ...totals } = await seasonTotals(db.prisma, groupId, season)
  if (withoutWindow > 0) await projectMissing(db, groupId)
  const { lots, ...place } = await listPage(db.prisma, groupId, year, {
    season,
    state,
    sort,
    taxonKey: isUnnamed ? null : (filter.crop ?? null),
    isUnnamed,
    storeId: filter.store && isUuid(filter.store) ? filter.store : null,
    page: Math.max(1, filter.page ?? 1),
  })
  const rows = await lotRows(db.prisma, groupId, { lotIds: lots.map((lot) => lot.lot_id) })
  const byId = new Map(rows.map((row) => [row.lotId, row]))
  const now = db.now()
  return {
    season: season.startYear,
    seasons: year.seasons,
    today: year.today,
    swapDay: year.swapDay,
    state,
    sort,
    lots: lots.flatMap((lot) => {
      const row = byId.get(lot.lot_id)
      return row ? [toWoodRow(row, toWindow(lot, year.timeZone, now))] : []
    }),
    ...place,
    ...totals,
  }
}

/** A code as it stands in an address, in capital letters and without the hyphen. */
const bareCode = (code: string) => code.replaceAll('-', '').toUpperCase()

/** A lot as a form on it needs it; null when the group has no such lot. */
export async function findLot(db: Database, actor: Actor, code: string): Promise<LotRow | null> {
  const [lot] = await lotRows(db.prisma, actor.groupId, { code: bareCode(code) })
  return lot ?? null
}

const stayViews = ({ clock, readings }: KeepingAsOf, stays: readonly StayRow[]): StayView[] =>
  stays.map((stay) => {
    const hours = readings.get(stay.storeId) ?? []
    return {
      storeId: stay.storeId,
      storeName: stay.storeName,
      keeperName: stay.keeperName,
      from: clock.dayOf(stay.from),
      to: stay.to ? clock.dayOf(stay.to) : null,
      days: daysOfStay(stay, hours, clock),
      ...temperatureOfStay(stay, hours),
    }
  })

function swapDayOf(offerings: readonly OfferingOfLot[], next: CivilDate | null): CivilDate | null {
  const offered = offerings.filter((offering) => !offering.isWithdrawn).map((offering) => offering.heldOn)
  return offered.at(-1) ?? next
}

/**
 * Everything that is known of a lot, by its code; null when the group has no such lot. Names of those who claimed
 * or received wood are there only for people who hand wood over, and each sees their own. Of a long story it has
 * the latest entries, or those up to the entry `upTo`.
 */
export async function getLot(
  db: Database,
  actor: Actor,
  code: string,
  upTo?: string,
): Promise<LotView | null> {
  const { groupId } = actor
  const [lot, year] = await Promise.all([findLot(db, actor, code), groupYear(db, groupId)])
  if (!lot) return null
  const [{ lots, readings }, story, offerings, holds] = await Promise.all([
    recordsOfLots(db.prisma, groupId, [lot]),
    movesOfLot(db, actor, lot.lotId, upTo !== undefined && isUuid(upTo) ? upTo : null),
    offeringsOfLot(db, actor, lot.lotId),
    holdsOnLot(db, groupId, lot),
  ])
  const kept = required(lots[0], 'the lot that was asked for')
  const asOf = { clock: dayClock(year.timeZone), readings, now: db.now() }
  return {
    lot,
    timeZone: year.timeZone,
    sums: stickSums(lot.sticks),
    window: windowOfLot(kept, asOf),
    narrowing: narrowingOfLot(kept, asOf),
    lengthening: lengtheningOfLot(kept, asOf),
    stays: stayViews(asOf, kept.stays),
    swapDay: swapDayOf(offerings, year.swapDay),
    ...story,
    offerings,
    holds,
    mayTend: mayTendLot(actor, lot),
    mayHold: can(actor, 'place-holds'),
  }
}

/** One cutting session with its lots in the order of cutting; null when the group has no such session. */
export async function getSession(db: Database, actor: Actor, id: string): Promise<SessionView | null> {
  if (!isUuid(id)) return null
  const { groupId } = actor
  const [session, lots, year] = await Promise.all([
    db.prisma.cuttingSession.findUnique({
      where: { groupId_id: { groupId, id } },
      include: { cutter: { select: { displayName: true } }, recordedBy: { select: { displayName: true } } },
    }),
    lotRows(db.prisma, groupId, { sessionId: id }),
    groupYear(db, groupId),
  ])
  if (!session) return null
  const windows = await storedWindows(
    db,
    groupId,
    year.timeZone,
    lots.map((lot) => lot.lotId),
  )
  return {
    sessionId: id,
    cutterName: session.cutter.displayName,
    recordedBy: session.recordedBy.displayName,
    cutOn: civilDateOf(session.cutOn),
    tool: session.tool,
    toolCare: session.toolCare,
    weather: session.weather,
    note: session.note,
    lots: lots.map((lot) => ({
      lot,
      sums: stickSums(lot.sticks),
      window: required(windows.get(lot.lotId), 'the window of a lot'),
    })),
  }
}

/** The open stores of the group, by name. */
export async function storeChoices(db: Database, actor: Actor): Promise<StoreChoice[]> {
  const stores = await db.prisma.store.findMany({
    where: { groupId: actor.groupId, closedOn: null },
    include: { keeper: { select: { displayName: true } } },
    orderBy: { name: 'asc' },
  })
  return stores.map((store) => ({
    id: store.id,
    name: store.name,
    keeperName: store.keeper?.displayName ?? null,
  }))
}

/** What a code that somebody typed stands for. */
export type FoundCode = { readonly kind: 'lot' | 'tree'; readonly code: string }
export type FindRefusal =
  | CodeRefusal
  | { readonly kind: 'empty' }
  | { readonly kind: 'not-given'; readonly code: string }

/**
 * Finds what a code stands for, however it was typed: any case, with or without the hyphen. A code of a tree is
 * found too. Refuses a text that cannot be a code, with the reason, and a code that this group never gave.
 */
export async function findLotByCode(
  db: Database,
  actor: Actor,
  text: string,
): Promise<Result<FoundCode, FindRefusal>> {
  if (text.trim() === '') return refuse({ kind: 'empty' })
  const parsed = parseCode(text)
  if (!parsed.ok) return parsed
  const issued = await db.prisma.issuedCode.findUnique({
    where: { groupId_code: { groupId: actor.groupId, code: parsed.value } },
  })
  return issued
    ? ok({ kind: issued.kind, code: issued.code })
    : refuse({ kind: 'not-given', code: parsed.value })
}

/** Lots that can be offered in a swap: named, not on hold, with free sticks. A member sees their own. */
export async function offerableLots(db: Database, actor: Actor): Promise<OfferableLot[]> {
  const { today } = await groupYear(db, actor.groupId)
  // Wood of two seasons ago is past any window; a swap of this one does not want it.
  const since: CivilDate = seasonStarting(seasonStartYear(today) - 1).from
  const lots = await lotRows(db.prisma, actor.groupId, { cutFrom: utcMidnight(since), isKept: true })
  const seesAll = can(actor, 'offer-any-lot')
  return lots.flatMap((lot) => {
    const inStore = lot.sticks['store'] ?? 0
    const isOwn = lot.cutterId === actor.memberId
    if (lot.hold || inStore === 0 || !lot.varietyName || !lot.commonName || !(seesAll || isOwn)) return []
    const { lotId, code, varietyName, commonName, cutOn, kind, diameter, packaging } = lot
    return [{ lotId, code, varietyName, commonName, cutOn, inStore, kind, diameter, packaging }]
  })
}
