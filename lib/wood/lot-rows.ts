import { type CivilDate, civilDateOf } from '#lib/kernel/civil-date.ts'
import type { Queries } from '#lib/platform/database/database.ts'
import type {
  DiameterBand,
  IdentityBasis,
  LotKind,
  Packaging,
  ProtectionStatus,
  StoreKind,
  ToolCare,
} from '#lib/platform/generated/enums.ts'
import { type InspectionFlag, inspectionFlags, type Seen } from '#lib/wood/inspection-words.ts'
import type { StayInStore } from '#lib/wood/stay-in-store.ts'

/** Sticks by account; what was cut is the negative of `cut`. Members are keyed `member:<id>`. */
export type SticksByAccount = Readonly<Record<string, number>>

/** A lot with what stands around it, as the list, the lot's page and the labels read it. */
export interface LotRow {
  readonly lotId: string
  readonly code: string
  readonly cutOn: CivilDate
  readonly kind: LotKind
  readonly diameter: DiameterBand
  readonly budStage: number
  readonly packaging: Packaging
  readonly note: string | null
  /** When it was written down. */
  readonly createdAt: Date
  readonly sessionId: string
  readonly toolCare: ToolCare
  readonly cutterId: string
  readonly cutterName: string
  readonly limbId: string
  readonly mark: string
  readonly treeCode: string
  /** Limbs of the tree that still stand: with one, the mark says nothing. */
  readonly limbsOnTree: number
  readonly identity: IdentityBasis
  readonly seenInLeafOn: CivilDate | null
  readonly healthNote: string | null
  readonly varietyId: string | null
  readonly varietyName: string | null
  readonly protection: ProtectionStatus | null
  readonly protectionCheckedOn: CivilDate | null
  readonly taxonKey: string | null
  readonly commonName: string | null
  readonly latinName: string | null
  readonly storageProfile: string | null
  /** Where it is now. */
  readonly storeId: string | null
  readonly storeName: string | null
  readonly storeKeeperId: string | null
  readonly sticks: SticksByAccount
  /** The open hold on it or on its limb. */
  readonly hold: HoldOnRow | null
  /** What the latest look that still stands found wrong, the gravest first. */
  readonly flags: readonly InspectionFlag[]
}

export interface HoldOnRow {
  readonly holdId: string
  readonly reason: string
  readonly placedBy: string
  readonly placedAt: Date
}

interface RawLotRow {
  readonly id: string
  readonly code: string
  readonly cut_on: Date
  readonly kind: LotKind
  readonly diameter: DiameterBand
  readonly bud_stage: number
  readonly packaging: Packaging
  readonly note: string | null
  readonly created_at: Date
  readonly session_id: string
  readonly tool_care: ToolCare
  readonly cutter_id: string
  readonly cutter_name: string
  readonly limb_id: string
  readonly mark: string
  readonly tree_code: string
  readonly limbs_on_tree: number
  readonly identity: IdentityBasis
  readonly seen_in_leaf_on: Date | null
  readonly health_note: string | null
  readonly variety_id: string | null
  readonly variety_name: string | null
  readonly protection: ProtectionStatus | null
  readonly protection_checked_on: Date | null
  readonly taxon_key: string | null
  readonly common_name: string | null
  readonly latin_name: string | null
  readonly storage_profile: string | null
  readonly store_id: string | null
  readonly store_name: string | null
  readonly store_keeper_id: string | null
  readonly sticks: SticksByAccount | null
  readonly hold: (Omit<HoldOnRow, 'placedAt'> & { readonly placedAt: string }) | null
  readonly seen: Seen | null
}

const maybeDay = (date: Date | null) => (date ? civilDateOf(date) : null)

const toLotRow = (row: RawLotRow): LotRow => ({
  lotId: row.id,
  code: row.code,
  cutOn: civilDateOf(row.cut_on),
  kind: row.kind,
  diameter: row.diameter,
  budStage: row.bud_stage,
  packaging: row.packaging,
  note: row.note,
  createdAt: row.created_at,
  sessionId: row.session_id,
  toolCare: row.tool_care,
  cutterId: row.cutter_id,
  cutterName: row.cutter_name,
  limbId: row.limb_id,
  mark: row.mark,
  treeCode: row.tree_code,
  limbsOnTree: row.limbs_on_tree,
  identity: row.identity,
  seenInLeafOn: maybeDay(row.seen_in_leaf_on),
  healthNote: row.health_note,
  varietyId: row.variety_id,
  varietyName: row.variety_name,
  protection: row.protection,
  protectionCheckedOn: maybeDay(row.protection_checked_on),
  taxonKey: row.taxon_key,
  commonName: row.common_name,
  latinName: row.latin_name,
  storageProfile: row.storage_profile,
  storeId: row.store_id,
  storeName: row.store_name,
  storeKeeperId: row.store_keeper_id,
  sticks: row.sticks ?? {},
  hold: row.hold && { ...row.hold, placedAt: new Date(row.hold.placedAt) },
  flags: row.seen ? inspectionFlags(row.seen) : [],
})

/** Which lots; what is left out or null does not narrow. */
export interface LotFilter {
  readonly code?: string | null
  readonly lotIds?: readonly string[] | null
  readonly sessionId?: string | null
  readonly limbId?: string | null
  readonly cutFrom?: Date | null
  readonly cutBefore?: Date | null
  readonly taxonKey?: string | null
  /** Lots of limbs without a variety. */
  readonly isUnnamed?: boolean
  readonly storeId?: string | null
  /** Only lots that still have sticks in their store, promised or not. */
  readonly isKept?: boolean
  readonly limit?: number
}

/** The lots of a group that pass a filter, the earliest cut first; those of one session as they were cut. One statement. */
export async function lotRows(tx: Queries, groupId: string, filter: LotFilter): Promise<LotRow[]> {
  const lotIds = filter.lotIds ? [...filter.lotIds] : null
  const rows = await tx.$queryRaw<RawLotRow[]>`
    select l.id, l.code, l.cut_on, l.kind::text as kind, l.diameter::text as diameter, l.bud_stage,
        l.packaging::text as packaging, l.note, l.created_at, l.session_id, c.tool_care::text as tool_care, c.cutter_id, m.display_name as cutter_name,
        l.limb_id, b.mark, t.code as tree_code, limbs.standing as limbs_on_tree, b.identity::text as identity,
        b.seen_in_leaf_on, b.health_note, b.variety_id, y.name as variety_name, y.protection::text as protection,
        y.protection_checked_on, y.taxon_key, x.common_name, x.genus || ' ' || x.species as latin_name,
        x.storage_profile, s.id as store_id, s.name as store_name, s.keeper_id as store_keeper_id,
        held.sticks,
        (select json_build_object('holdId', h.id, 'reason', h.reason, 'placedBy', p.display_name, 'placedAt', h.placed_at)
          from health_hold h join member p on p.group_id = h.group_id and p.id = h.placed_by_id
          where h.group_id = l.group_id and h.released_at is null and (h.lot_id = l.id or h.limb_id = l.limb_id)
          order by h.placed_at limit 1) as hold,
        (select json_build_object('condition', e.condition, 'mould', e.mould, 'shrivel', e.shrivel, 'budStage', e.bud_stage, 'nick', e.nick)
          from inspection e where e.group_id = l.group_id and e.lot_id = l.id
            and not exists (select from inspection c where c.group_id = e.group_id and c.supersedes_id = e.id)
          order by e.inspected_at desc, e.recorded_at desc, e.id desc limit 1) as seen
      from lot l
      join cutting_session c on c.group_id = l.group_id and c.id = l.session_id
      join member m on m.group_id = c.group_id and m.id = c.cutter_id
      join limb b on b.group_id = l.group_id and b.id = l.limb_id
      join tree t on t.group_id = b.group_id and t.id = b.tree_id
      left join variety y on y.group_id = b.group_id and y.id = b.variety_id
      left join taxon x on x.key = y.taxon_key
      left join stint i on i.group_id = l.group_id and i.lot_id = l.id and i.ended_at is null
      left join store s on s.group_id = i.group_id and s.id = i.store_id
      cross join lateral (select count(*)::int as standing from limb o
        where o.group_id = b.group_id and o.tree_id = b.tree_id and o.gone_on is null) limbs
      cross join lateral (select json_object_agg(h.account, h.sticks) as sticks from holding h
        where h.group_id = l.group_id and h.lot_id = l.id) held
      where l.group_id = ${groupId}::uuid
        and (${filter.code ?? null}::text is null or l.code = ${filter.code ?? null}::text)
        and (${lotIds}::uuid[] is null or l.id = any(${lotIds}::uuid[]))
        and (${filter.sessionId ?? null}::uuid is null or l.session_id = ${filter.sessionId ?? null}::uuid)
        and (${filter.limbId ?? null}::uuid is null or l.limb_id = ${filter.limbId ?? null}::uuid)
        and (${filter.cutFrom ?? null}::date is null or l.cut_on >= ${filter.cutFrom ?? null}::date)
        and (${filter.cutBefore ?? null}::date is null or l.cut_on < ${filter.cutBefore ?? null}::date)
        and (${filter.taxonKey ?? null}::text is null or y.taxon_key = ${filter.taxonKey ?? null}::text)
        and (not ${filter.isUnnamed ?? false}::boolean or b.variety_id is null)
        and (${filter.storeId ?? null}::uuid is null or s.id = ${filter.storeId ?? null}::uuid)
        and (not ${filter.isKept ?? false}::boolean or exists (select from holding k where k.group_id = l.group_id
          and k.lot_id = l.id and k.account in ('store', 'promised') and k.sticks > 0))
      order by l.cut_on,
        case when ${filter.sessionId ?? null}::uuid is not null then
          (select min(v.seq) from move v where v.group_id = l.group_id and v.lot_id = l.id) end,
        l.id
      limit ${filter.limit ?? null}::int`
  return rows.map(toLotRow)
}

/** A lot's stay with the names that a page shows. */
export interface StayRow extends StayInStore {
  readonly lotId: string
  readonly storeName: string
  readonly keeperName: string | null
}

/** Everywhere that lots have been, in the order of time. One statement. */
export async function stayRows(tx: Queries, groupId: string, lotIds: readonly string[]): Promise<StayRow[]> {
  if (lotIds.length === 0) return []
  const rows = await tx.$queryRaw<
    {
      readonly lot_id: string
      readonly store_id: string
      readonly name: string
      readonly kind: StoreKind
      readonly typed_celsius: number | null
      readonly keeper_name: string | null
      readonly began_at: Date
      readonly ended_at: Date | null
    }[]
  >`
    select i.lot_id, s.id as store_id, s.name, s.kind::text as kind, s.typed_celsius::float8 as typed_celsius,
        k.display_name as keeper_name, i.began_at, i.ended_at
      from stint i
      join store s on s.group_id = i.group_id and s.id = i.store_id
      left join member k on k.group_id = s.group_id and k.id = s.keeper_id
      where i.group_id = ${groupId}::uuid and i.lot_id = any(${[...lotIds]}::uuid[])
      order by i.began_at`
  return rows.map((row) => ({
    lotId: row.lot_id,
    storeId: row.store_id,
    storeName: row.name,
    storeKind: row.kind,
    typedCelsius: row.typed_celsius,
    keeperName: row.keeper_name,
    from: row.began_at,
    to: row.ended_at,
  }))
}
