import { civilDateOf } from '#lib/kernel/civil-date.ts'
import type { Database, Queries } from '#lib/platform/database/database.ts'
import type { LotKind, Packaging } from '#lib/platform/generated/enums.ts'
import { viabilityWindow } from '#lib/viability/viability-window.ts'
import { type DayClock, dayClock } from '#lib/wood/day-clock.ts'
import { type LotFacts, recordsOfLots } from '#lib/wood/records-of-lots.ts'
import { windowModel } from '#lib/wood/window-model.ts'
import { historyOfLot, type KeepingAsOf, type LotToKeep } from '#lib/wood/window-of-lot.ts'

/** Which windows something changed. A store's are those of the lots that were in it between two moments. */
export type WindowsToProject =
  | { readonly lotIds: readonly string[] }
  | { readonly storeId: string; readonly from?: Date; readonly to?: Date }
  | { readonly limbId: string }
  | { readonly varietyId: string }
  | { readonly wholeGroup: true }

/** So many lots are read and written at once. */
const lotsAtOnce = 500

/** A reading counts for the full hour nearest to it. */
const hourMs = 3_600_000

interface FactsRow {
  readonly lot_id: string
  readonly kind: LotKind
  readonly cut_on: Date
  readonly storage_profile: string | null
  readonly packaging: Packaging
  readonly bud_stage: number
}

const toFacts = (row: FactsRow): LotFacts => ({
  lotId: row.lot_id,
  kind: row.kind,
  cutOn: civilDateOf(row.cut_on),
  storageProfile: row.storage_profile,
  packaging: row.packaging,
  budStage: row.bud_stage,
})

/** What the windows in question start from. One statement. */
async function factsOf(tx: Queries, groupId: string, which: WindowsToProject): Promise<LotFacts[]> {
  const lotIds = 'lotIds' in which ? [...which.lotIds] : null
  const store = 'storeId' in which ? which : null
  const from = store?.from ? new Date(store.from.getTime() - hourMs) : null
  const to = store?.to ? new Date(store.to.getTime() + hourMs) : null
  const limbId = 'limbId' in which ? which.limbId : null
  const varietyId = 'varietyId' in which ? which.varietyId : null
  const rows = await tx.$queryRaw<FactsRow[]>`
    select l.id as lot_id, l.kind::text as kind, l.cut_on, x.storage_profile, l.packaging::text as packaging, l.bud_stage
      from lot l
      join limb b on b.group_id = l.group_id and b.id = l.limb_id
      left join variety y on y.group_id = b.group_id and y.id = b.variety_id
      left join taxon x on x.key = y.taxon_key
      where l.group_id = ${groupId}::uuid
        and (${lotIds}::uuid[] is null or l.id = any(${lotIds}::uuid[]))
        and (${limbId}::uuid is null or l.limb_id = ${limbId}::uuid)
        and (${varietyId}::uuid is null or b.variety_id = ${varietyId}::uuid)
        and (${store?.storeId ?? null}::uuid is null or l.id in (
          select i.lot_id from stint i where i.group_id = ${groupId}::uuid and i.store_id = ${store?.storeId ?? null}::uuid
            and (${to}::timestamptz is null or i.began_at <= ${to}::timestamptz)
            and (${from}::timestamptz is null or i.ended_at is null or i.ended_at >= ${from}::timestamptz)))
      order by l.id`
  return rows.map(toFacts)
}

/** A window as it is stored, with its limits as instants. */
interface Projection {
  readonly early: Date | null
  readonly likely: Date | null
  readonly late: Date | null
  readonly limited_by: string | null
  readonly no_window: string | null
  readonly profile: string | null
  readonly flags: readonly string[]
}

const nothing = { early: null, likely: null, late: null, limited_by: null, profile: null, flags: [] }

function projectionOf(lot: LotToKeep, asOf: KeepingAsOf): Projection {
  if (lot.kind === 'rooted_plants') return { ...nothing, no_window: 'rooted-plants' }
  const { input } = historyOfLot(lot, asOf)
  const window = viabilityWindow(input)
  if (window.kind === 'refused') return { ...nothing, no_window: window.reason }
  const { early, likely, late, flags } = window
  return {
    early: early.at,
    likely: likely.at,
    late: late.at,
    limited_by: likely.limitedBy,
    no_window: null,
    profile: input.profile.key,
    flags,
  }
}

/** Lots of one kind, cut, packed and kept alike have one window. */
const sameWindow = ({
  kind,
  cutOn,
  storageProfile,
  packaging,
  budStage,
  observedBuds,
  stays,
}: LotToKeep): string =>
  JSON.stringify([
    kind,
    cutOn,
    storageProfile,
    packaging,
    budStage,
    observedBuds,
    stays.map(({ storeId, from, to }) => [storeId, from.getTime(), to?.getTime()]),
  ])

interface Writing {
  readonly tx: Queries
  readonly groupId: string
  readonly clock: DayClock
  readonly now: Date
}

async function writeWindows({ tx, groupId, clock, now }: Writing, facts: readonly LotFacts[]): Promise<void> {
  const { lots, readings } = await recordsOfLots(tx, groupId, facts)
  const asOf = { clock, readings, now }
  const known = new Map<string, Projection>()
  const rows = lots.map((lot) => {
    const key = sameWindow(lot)
    const projection = known.get(key) ?? projectionOf(lot, asOf)
    known.set(key, projection)
    return { lot: lot.lotId, storage_profile: lot.storageProfile, ...projection }
  })
  await tx.$executeRaw`
    insert into window_projection (group_id, lot_id, early_at, likely_at, late_at, limited_by, no_window, profile,
        storage_profile, flags, model, computed_at)
      select ${groupId}::uuid, r.lot, r.early, r.likely, r.late, r.limited_by, r.no_window, r.profile,
          r.storage_profile, r.flags, ${windowModel()}::text, ${now}::timestamptz
        from jsonb_to_recordset(${JSON.stringify(rows)}::jsonb) as r(lot uuid, early timestamptz, likely timestamptz,
          late timestamptz, limited_by text, no_window text, profile text, storage_profile text, flags text[])
        order by r.lot
      on conflict (group_id, lot_id) do update set early_at = excluded.early_at, likely_at = excluded.likely_at,
        late_at = excluded.late_at, limited_by = excluded.limited_by, no_window = excluded.no_window,
        profile = excluded.profile, storage_profile = excluded.storage_profile, flags = excluded.flags,
        model = excluded.model, computed_at = excluded.computed_at`
}

/**
 * Works out how long lots keep and stores it, in the transaction of the command that changed what their windows rest
 * on. Every command that writes a lot, a stay, a store, a reading, or what a limb or a variety is, calls it as its last
 * write but the log, so that the list of wood is never older than the records under it.
 *
 * One such call of a group waits for the other: of two readings that are recorded at the same moment, the second sees
 * the first. Two statements, and four for each 500 lots.
 *
 * @returns how many windows were stored.
 */
export async function projectWindows(
  tx: Queries,
  db: Pick<Database, 'now'>,
  groupId: string,
  which: WindowsToProject,
): Promise<number> {
  const [group] = await tx.$queryRaw<{ readonly time_zone: string; readonly turn: string }[]>`
    select g.time_zone, pg_advisory_xact_lock(hashtextextended('windows of ' || g.id::text, 0))::text as turn
      from orchard_group g where g.id = ${groupId}::uuid`
  if (!group) throw new Error('Windows of a group that is not there')
  const facts = await factsOf(tx, groupId, which)
  const writing = { tx, groupId, clock: dayClock(group.time_zone), now: db.now() }
  for (let at = 0; at < facts.length; at += lotsAtOnce) {
    await writeWindows(writing, facts.slice(at, at + lotsAtOnce))
  }
  return facts.length
}

/**
 * Works out the windows that no command of this copy has stored: lots that came into the database some other way,
 * windows of an earlier model, and those of a taxon whose storage profile was changed. Done when the database is brought
 * up to date, and by a page that finds one missing.
 *
 * @returns how many windows were stored.
 */
export async function projectMissing(db: Database, onlyGroupId: string | null = null): Promise<number> {
  const missing = await db.prisma.$queryRaw<{ readonly group_id: string; readonly lot_ids: string[] }[]>`
    select l.group_id, array_agg(l.id order by l.id) as lot_ids
      from lot l
      join limb b on b.group_id = l.group_id and b.id = l.limb_id
      left join variety y on y.group_id = b.group_id and y.id = b.variety_id
      left join taxon x on x.key = y.taxon_key
      left join window_projection w on w.group_id = l.group_id and w.lot_id = l.id
      where (${onlyGroupId}::uuid is null or l.group_id = ${onlyGroupId}::uuid)
        and (w.lot_id is null or w.model <> ${windowModel()}::text or w.storage_profile is distinct from x.storage_profile)
      group by l.group_id`
  let stored = 0
  for (const { group_id, lot_ids } of missing) {
    for (let at = 0; at < lot_ids.length; at += lotsAtOnce) {
      const lotIds = lot_ids.slice(at, at + lotsAtOnce)
      stored += await db.prisma.$transaction((tx) => projectWindows(tx, db, group_id, { lotIds }))
    }
  }
  return stored
}
