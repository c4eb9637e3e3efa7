import { utcMidnight } from '#lib/kernel/civil-date.ts'
import type { Queries } from '#lib/platform/database/database.ts'
import type { Season } from '#lib/wood/season.ts'
import type { WoodCounts, WoodList } from '#lib/wood/view.ts'
import { windowModel } from '#lib/wood/window-model.ts'

interface RawTotals {
  readonly grouped: 'all' | 'crop' | 'store'
  readonly key: string | null
  readonly label: string | null
  readonly lots: number
  readonly kept: number
  readonly free: number
  readonly held: number
  readonly sticks_cut: number
  readonly sticks_free: number
  readonly sticks_promised: number
  readonly without_window: number
}

export interface SeasonTotals {
  readonly counts: WoodCounts
  readonly byCrop: WoodList['byCrop']
  readonly byStore: WoodList['byStore']
  /** Lots whose window the model of this copy has not worked out yet. */
  readonly withoutWindow: number
}

const byLabel = (a: { readonly label: string }, b: { readonly label: string }) =>
  a.label.localeCompare(b.label, 'en')

/** Counts the lots and sticks of a season: in all, by crop and by store. One statement. */
export async function seasonTotals(tx: Queries, groupId: string, season: Season): Promise<SeasonTotals> {
  const rows = await tx.$queryRaw<RawTotals[]>`
    with counted as (
      select l.id, w.lot_id as projected, y.taxon_key, x.common_name, s.id as store_id, s.name as store_name,
          -coalesce(sum(h.sticks) filter (where h.account = 'cut'), 0) as cut,
          coalesce(sum(h.sticks) filter (where h.account = 'store'), 0) as free,
          coalesce(sum(h.sticks) filter (where h.account = 'promised'), 0) as promised,
          exists (select from health_hold k where k.group_id = l.group_id and k.released_at is null
            and (k.lot_id = l.id or k.limb_id = l.limb_id)) as held
        from lot l
        join limb b on b.group_id = l.group_id and b.id = l.limb_id
        left join variety y on y.group_id = b.group_id and y.id = b.variety_id
        left join taxon x on x.key = y.taxon_key
        left join stint i on i.group_id = l.group_id and i.lot_id = l.id and i.ended_at is null
        left join store s on s.group_id = i.group_id and s.id = i.store_id
        left join window_projection w on w.group_id = l.group_id and w.lot_id = l.id and w.model = ${windowModel()}::text
        left join holding h on h.group_id = l.group_id and h.lot_id = l.id
        where l.group_id = ${groupId}::uuid and l.cut_on >= ${utcMidnight(season.from)}::date
          and l.cut_on < ${utcMidnight(season.before)}::date
        group by l.group_id, l.id, w.lot_id, y.taxon_key, x.common_name, s.id, s.name)
    select case when grouping(taxon_key) = 0 then 'crop' when grouping(store_id) = 0 then 'store' else 'all' end as grouped,
        case when grouping(taxon_key) = 0 then taxon_key else store_id::text end as key,
        case when grouping(taxon_key) = 0 then common_name else store_name end as label,
        count(*)::int as lots, (count(*) filter (where free + promised > 0))::int as kept,
        (count(*) filter (where free > 0))::int as free, (count(*) filter (where held))::int as held,
        coalesce(sum(cut), 0)::int as sticks_cut, coalesce(sum(counted.free), 0)::int as sticks_free,
        coalesce(sum(promised), 0)::int as sticks_promised, (count(*) filter (where projected is null))::int as without_window
      from counted
      group by grouping sets ((taxon_key, common_name), (store_id, store_name), ())`
  const all = rows.find((row) => row.grouped === 'all')
  return {
    counts: {
      lots: all?.lots ?? 0,
      kept: all?.kept ?? 0,
      free: all?.free ?? 0,
      held: all?.held ?? 0,
      gone: (all?.lots ?? 0) - (all?.kept ?? 0),
      sticksCut: all?.sticks_cut ?? 0,
      sticksFree: all?.sticks_free ?? 0,
      sticksPromised: all?.sticks_promised ?? 0,
    },
    withoutWindow: all?.without_window ?? 0,
    byCrop: rows
      .filter((row) => row.grouped === 'crop' && row.kept > 0)
      .map((row) => ({ key: row.key, label: row.label ?? 'No name', lots: row.kept }))
      .sort(byLabel),
    byStore: rows
      .filter((row) => row.grouped === 'store' && row.key !== null && row.kept > 0)
      .map((row) => ({ id: row.key ?? '', label: row.label ?? '', lots: row.kept }))
      .sort(byLabel),
  }
}
