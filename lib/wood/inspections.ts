import type { Actor } from '#lib/access/actor.ts'
import type { Database, Queries } from '#lib/platform/database/database.ts'
import type { InspectionDecision, MouldSeen, NickTest, ShrivelSeen } from '#lib/platform/generated/enums.ts'
import type { Seen } from '#lib/wood/inspection-words.ts'

/** A look at a lot. */
export interface InspectionView extends Seen {
  readonly inspectionId: string
  readonly inspectedAt: Date
  readonly inspectorId: string
  readonly inspector: string
  /** Whoever wrote it down, when that was somebody else. */
  readonly recordedBy: string | null
  readonly note: string | null
  readonly decision: InspectionDecision
  readonly holdId: string | null
  /** Sticks that were destroyed for it, and why. */
  readonly destroyed: { readonly sticks: number; readonly reason: string | null } | null
  /** Another look stands in for it. */
  readonly isCorrected: boolean
  /** It stands in for another. */
  readonly isCorrection: boolean
}

interface RawInspection {
  readonly id: string
  readonly inspected_at: Date
  readonly inspector_id: string
  readonly inspector: string
  readonly recorded_by: string | null
  readonly condition: number
  readonly mould: MouldSeen
  readonly shrivel: ShrivelSeen
  readonly bud_stage: number | null
  readonly nick: NickTest
  readonly note: string | null
  readonly decision: InspectionDecision
  readonly hold_id: string | null
  readonly sticks: number | null
  readonly reason: string | null
  readonly is_corrected: boolean
  readonly is_correction: boolean
}

/** The looks at a lot, the latest first; the first that is not corrected is how the lot stands. One statement. */
export async function inspectionsOfLot(
  tx: Queries,
  groupId: string,
  lotId: string,
): Promise<InspectionView[]> {
  const rows = await tx.$queryRaw<RawInspection[]>`
    select i.id, i.inspected_at, i.inspector_id, p.display_name as inspector, case when r.id <> p.id then r.display_name end as recorded_by,
        i.condition, i.mould::text as mould, i.shrivel::text as shrivel, i.bud_stage, i.nick::text as nick, i.note,
        i.decision::text as decision, i.hold_id, v.sticks, v.reason, i.supersedes_id is not null as is_correction,
        exists (select from inspection c where c.group_id = i.group_id and c.supersedes_id = i.id) as is_corrected
      from inspection i
      join member p on p.group_id = i.group_id and p.id = i.inspector_id
      join member r on r.group_id = i.group_id and r.id = i.recorded_by_id
      left join move v on v.group_id = i.group_id and v.id = i.move_id
      where i.group_id = ${groupId}::uuid and i.lot_id = ${lotId}::uuid
      order by i.inspected_at desc, i.recorded_at desc, i.id desc`
  return rows.map((row) => ({
    inspectionId: row.id,
    inspectedAt: row.inspected_at,
    inspectorId: row.inspector_id,
    inspector: row.inspector,
    recordedBy: row.recorded_by,
    condition: row.condition,
    mould: row.mould,
    shrivel: row.shrivel,
    budStage: row.bud_stage,
    nick: row.nick,
    note: row.note,
    decision: row.decision,
    holdId: row.hold_id,
    destroyed: row.sticks === null ? null : { sticks: row.sticks, reason: row.reason },
    isCorrected: row.is_corrected,
    isCorrection: row.is_correction,
  }))
}

/** The looks at a lot of the actor's group, the latest first. */
export const lotInspections = (db: Database, actor: Actor, lotId: string): Promise<InspectionView[]> =>
  inspectionsOfLot(db.prisma, actor.groupId, lotId)

/** Buds as somebody saw them in store. */
export interface ObservedBuds {
  readonly at: Date
  readonly budStage: number
}

/** What was seen of the buds of some lots, by lot id, in the order of time; corrected looks left out. One statement. */
export async function observedBuds(
  tx: Queries,
  groupId: string,
  lotIds: readonly string[],
): Promise<ReadonlyMap<string, readonly ObservedBuds[]>> {
  if (lotIds.length === 0) return new Map()
  const rows = await tx.$queryRaw<
    { readonly lot_id: string; readonly inspected_at: Date; readonly bud_stage: number }[]
  >`
    select i.lot_id, i.inspected_at, i.bud_stage
      from inspection i
      where i.group_id = ${groupId}::uuid and i.lot_id = any(${[...lotIds]}::uuid[]) and i.bud_stage is not null
        and not exists (select from inspection c where c.group_id = i.group_id and c.supersedes_id = i.id)
      order by i.inspected_at, i.id`
  const byLot = new Map<string, ObservedBuds[]>()
  for (const { lot_id, inspected_at, bud_stage } of rows) {
    const seen = { at: inspected_at, budStage: bud_stage }
    const earlier = byLot.get(lot_id)
    if (earlier) earlier.push(seen)
    else byLot.set(lot_id, [seen])
  }
  return byLot
}
