import type { Actor } from '#lib/access/actor.ts'
import { required } from '#lib/kernel/assert.ts'
import { type CivilDate, civilDateOf } from '#lib/kernel/civil-date.ts'
import { isUuid } from '#lib/kernel/id.ts'
import type { Database } from '#lib/platform/database/database.ts'
import type { ReadingBasis, StoreKind } from '#lib/platform/generated/enums.ts'
import { groupYear } from '#lib/wood/group-year.ts'
import { firstToUse } from '#lib/wood/list-order.ts'
import { lotRows } from '#lib/wood/lot-rows.ts'
import { mayKeepStore } from '#lib/wood/may-tend.ts'
import { storedWindows } from '#lib/wood/stored-windows.ts'
import { toWoodRow, type WoodRow } from '#lib/wood/view.ts'

export interface ReadingView {
  readonly at: Date
  readonly celsius: number
  readonly basis: ReadingBasis
  readonly takenBy: string | null
}

/** A store in the list. */
export interface StoreRow {
  readonly storeId: string
  readonly name: string
  readonly kind: StoreKind
  readonly keeperName: string | null
  readonly typedCelsius: number | null
  readonly closedOn: CivilDate | null
  /** Lots that are there now with sticks left. */
  readonly lots: number
  readonly sticks: number
  readonly lastReading: { readonly at: Date; readonly celsius: number } | null
}

/** The stores of the group, open ones first. One statement. */
export async function listStores(db: Database, actor: Actor): Promise<StoreRow[]> {
  const rows = await db.prisma.$queryRaw<
    {
      readonly id: string
      readonly name: string
      readonly kind: StoreKind
      readonly keeper_name: string | null
      readonly typed_celsius: number | null
      readonly closed_on: Date | null
      readonly lots: number
      readonly sticks: number
      readonly read_at: Date | null
      readonly celsius: number | null
    }[]
  >`
    select s.id, s.name, s.kind::text as kind, k.display_name as keeper_name, s.typed_celsius::float8 as typed_celsius,
        s.closed_on, wood.lots, wood.sticks, last.at as read_at, last.celsius::float8 as celsius
      from store s
      left join member k on k.group_id = s.group_id and k.id = s.keeper_id
      cross join lateral (
        select count(distinct i.lot_id)::int as lots, coalesce(sum(h.sticks), 0)::int as sticks
          from stint i
          join holding h on h.group_id = i.group_id and h.lot_id = i.lot_id and h.account in ('store', 'promised')
            and h.sticks > 0
          where i.group_id = s.group_id and i.store_id = s.id and i.ended_at is null) wood
      left join lateral (
        select r.at, r.celsius from reading r where r.group_id = s.group_id and r.store_id = s.id
          order by r.at desc limit 1) last on true
      where s.group_id = ${actor.groupId}::uuid
      order by s.closed_on is not null, s.name`
  return rows.map((row) => ({
    storeId: row.id,
    name: row.name,
    kind: row.kind,
    keeperName: row.keeper_name,
    typedCelsius: row.typed_celsius,
    closedOn: row.closed_on ? civilDateOf(row.closed_on) : null,
    lots: row.lots,
    sticks: row.sticks,
    lastReading: row.read_at && row.celsius !== null ? { at: row.read_at, celsius: row.celsius } : null,
  }))
}

export interface StoreView {
  readonly storeId: string
  readonly name: string
  readonly kind: StoreKind
  readonly keeperId: string | null
  readonly keeperName: string | null
  readonly typedCelsius: number | null
  readonly closedOn: CivilDate | null
  readonly timeZone: string
  readonly today: CivilDate
  readonly swapDay: CivilDate | null
  /** What is there now with sticks left, the soonest to spoil first. */
  readonly lots: readonly WoodRow[]
  /** The latest first. */
  readonly readings: readonly ReadingView[]
  readonly mayKeep: boolean
}

const readingsShown = 12
const lotsShown = 300

/** A store with what is in it and what was read there; null when the group has no such store. */
export async function getStore(db: Database, actor: Actor, id: string): Promise<StoreView | null> {
  if (!isUuid(id)) return null
  const { groupId } = actor
  const [store, readings, lots, year] = await Promise.all([
    db.prisma.store.findUnique({
      where: { groupId_id: { groupId, id } },
      include: { keeper: { select: { displayName: true } } },
    }),
    db.prisma.reading.findMany({
      where: { groupId, storeId: id },
      include: { takenBy: { select: { displayName: true } } },
      orderBy: { at: 'desc' },
      take: readingsShown,
    }),
    lotRows(db.prisma, groupId, { storeId: id, isKept: true, limit: lotsShown }),
    groupYear(db, groupId),
  ])
  if (!store) return null
  const windows = await storedWindows(
    db,
    groupId,
    year.timeZone,
    lots.map((lot) => lot.lotId),
  )
  return {
    storeId: id,
    name: store.name,
    kind: store.kind,
    keeperId: store.keeperId,
    keeperName: store.keeper?.displayName ?? null,
    typedCelsius: store.typedCelsius?.toNumber() ?? null,
    closedOn: store.closedOn ? civilDateOf(store.closedOn) : null,
    timeZone: year.timeZone,
    today: year.today,
    swapDay: year.swapDay,
    lots: lots
      .map((lot) => toWoodRow(lot, required(windows.get(lot.lotId), 'the window of a lot')))
      .sort(firstToUse),
    readings: readings.map((reading) => ({
      at: reading.at,
      celsius: reading.celsius.toNumber(),
      basis: reading.basis,
      takenBy: reading.takenBy?.displayName ?? null,
    })),
    mayKeep: mayKeepStore(actor, store.keeperId),
  }
}
