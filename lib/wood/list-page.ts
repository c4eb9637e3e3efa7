import { utcMidnight } from '#lib/kernel/civil-date.ts'
import type { Queries } from '#lib/platform/database/database.ts'
import type { GroupYear } from '#lib/wood/group-year.ts'
import type { Season } from '#lib/wood/season.ts'
import type { StoredWindowRow } from '#lib/wood/stored-windows.ts'
import type { WoodSort, WoodState } from '#lib/wood/view.ts'
import { windowModel } from '#lib/wood/window-model.ts'

export interface ListWish {
  readonly season: Season
  readonly state: WoodState
  readonly sort: WoodSort
  /** Key of a taxon. */
  readonly taxonKey: string | null
  /** Only lots of limbs without a variety. */
  readonly isUnnamed: boolean
  readonly storeId: string | null
  /** From 1. One beyond the last is the last. */
  readonly page: number
}

export interface ListPage {
  /** The lots of the page in their order, with their stored windows. */
  readonly lots: readonly (StoredWindowRow & { readonly lot_id: string })[]
  /** Lots on all pages. */
  readonly matching: number
  readonly page: number
  readonly pages: number
}

const lotsPerPage = 60

/** Which lots of a season a page of the list shows, and in what order. One statement, whatever the number of lots. */
export async function listPage(
  tx: Queries,
  groupId: string,
  { timeZone, today }: Pick<GroupYear, 'timeZone' | 'today'>,
  wish: ListWish,
): Promise<ListPage> {
  const { season, state, sort, taxonKey, storeId } = wish
  const isKept = state === 'kept' || state === 'free' || state === 'urgent'
  const rows = await tx.$queryRaw<
    (StoredWindowRow & { readonly lot_id: string | null; readonly matching: number; readonly page: number })[]
  >`
    with standing as (
      select l.id, l.cut_on, y.name_key, w.early_at, w.likely_at, w.late_at, w.limited_by, w.no_window, w.flags,
          coalesce(held.free, 0) as free, coalesce(held.kept, 0) as kept,
          exists (select from health_hold k where k.group_id = l.group_id and k.released_at is null
            and (k.lot_id = l.id or k.limb_id = l.limb_id)) as is_held
        from lot l
        join limb b on b.group_id = l.group_id and b.id = l.limb_id
        left join variety y on y.group_id = b.group_id and y.id = b.variety_id
        left join window_projection w on w.group_id = l.group_id and w.lot_id = l.id and w.model = ${windowModel()}::text
        left join stint i on i.group_id = l.group_id and i.lot_id = l.id and i.ended_at is null
        left join lateral (
          select sum(h.sticks) filter (where h.account = 'store') as free, sum(h.sticks) as kept from holding h
            where h.group_id = l.group_id and h.lot_id = l.id and h.account in ('store', 'promised')) held on true
        where l.group_id = ${groupId}::uuid
          and l.cut_on >= ${utcMidnight(season.from)}::date and l.cut_on < ${utcMidnight(season.before)}::date
          and (${taxonKey}::text is null or y.taxon_key = ${taxonKey}::text)
          and (not ${wish.isUnnamed}::boolean or b.variety_id is null)
          and (${storeId}::uuid is null or i.store_id = ${storeId}::uuid)),
    matched as materialized (
      select * from standing
        where (not ${isKept}::boolean or kept > 0)
          and (${state}::text <> 'free' or free > 0)
          and (${state}::text <> 'urgent' or (early_at at time zone ${timeZone}::text)::date <= ${utcMidnight(today)}::date)
          and (${state}::text <> 'held' or is_held)
          and (${state}::text <> 'gone' or kept = 0)),
    counted as (
      select count(*)::int as matching, least(${wish.page}::int, greatest(1, ceil(count(*) / ${lotsPerPage}::float8)))::int as page
        from matched),
    shown as (
      select * from matched
        order by case when ${sort}::text = 'first' then is_held end, case when ${sort}::text = 'first' then likely_at end nulls last,
          case when ${sort}::text = 'latest' then cut_on end desc nulls last, name_key collate "C" nulls last, cut_on, id
        limit ${lotsPerPage}::int offset (select (page - 1) * ${lotsPerPage}::int from counted))
    select c.matching, c.page, s.id as lot_id, s.early_at, s.likely_at, s.late_at, s.limited_by, s.no_window, s.flags
      from counted c left join shown s on true
      order by case when ${sort}::text = 'first' then s.is_held end, case when ${sort}::text = 'first' then s.likely_at end nulls last,
        case when ${sort}::text = 'latest' then s.cut_on end desc nulls last, s.name_key collate "C" nulls last, s.cut_on, s.id`
  const matching = rows[0]?.matching ?? 0
  return {
    lots: rows.flatMap((row) => (row.lot_id === null ? [] : [{ ...row, lot_id: row.lot_id }])),
    matching,
    page: rows[0]?.page ?? 1,
    pages: Math.max(1, Math.ceil(matching / lotsPerPage)),
  }
}
