import type pg from 'pg'
import type { Database } from '#lib/platform/database/database.ts'
import { makeGroup, makeLot, type TestGroup, type TestLot } from '#tests/support/actors.ts'

export interface DeepHistoryOptions {
  /** Lots, each with a story of the same length. */
  readonly lots: number
  readonly movesPerLot: number
  /** Moves of one more lot, with a longer story than any other. */
  readonly movesOfLongest: number
}

export interface DeepHistory {
  readonly group: TestGroup
  readonly lots: readonly TestLot[]
  readonly longest: TestLot
}

/**
 * Writes a long history as the owner of the tables: sticks that are written off and brought back, over and over, with
 * every balance right. The keys between tables are not looked up for each of a million rows; `verifyLedger` does so.
 */
export async function makeDeepHistory(
  db: Database,
  owner: pg.ClientBase,
  options: DeepHistoryOptions,
): Promise<DeepHistory> {
  const group = await makeGroup(db)
  const lots: TestLot[] = []
  for (let i = 0; i < Math.min(options.lots, 20); i++) lots.push(await makeLot(db, group, { sticks: 20 }))
  const longest = await makeLot(db, group, { sticks: 20 })
  await owner.query('begin')
  await owner.query('set local session_replication_role = replica')
  await copyLots(owner, group, lots, options.lots)
  await writeMoves(owner, group, longest.lotId, options)
  await owner.query('commit')
  await owner.query('analyze')
  return { group, lots, longest }
}

/** More lots after the pattern of those that there are, cut on the same day and lying in the same stores. */
async function copyLots(
  owner: pg.ClientBase,
  { groupId }: TestGroup,
  lots: readonly TestLot[],
  wanted: number,
) {
  const more = wanted - lots.length
  if (more <= 0) return
  const values = [groupId, lots.map(({ lotId }) => lotId), more]
  await owner.query('create temporary table copied (id uuid, code char(6), pattern uuid) on commit drop')
  await owner.query(
    `insert into copied
      select gen_random_uuid(), '2' || translate(lpad(to_hex(i), 5, '0'), '01ol', 'WXYZ'), ($2::uuid[])[1 + i % cardinality($2::uuid[])]
        from generate_series(1, $3::int) i where $1::uuid is not null`,
    values,
  )
  const from = 'from copied c join'
  await owner.query(
    `insert into issued_code (group_id, code, kind) select '${groupId}', upper(code), 'lot' from copied`,
  )
  await owner.query(
    `insert into lot (group_id, id, code, limb_id, session_id, cut_on, kind, diameter, bud_stage, packaging)
      select l.group_id, c.id, upper(c.code), l.limb_id, l.session_id, l.cut_on, l.kind, l.diameter, l.bud_stage, l.packaging
        ${from} lot l on l.id = c.pattern`,
  )
  await owner.query(
    `insert into stint (group_id, id, lot_id, store_id, began_at)
      select s.group_id, gen_random_uuid(), c.id, s.store_id, s.began_at ${from} stint s on s.lot_id = c.pattern`,
  )
  await owner.query(
    `insert into holding (group_id, lot_id, account, sticks)
      select h.group_id, c.id, h.account, h.sticks ${from} holding h on h.lot_id = c.pattern`,
  )
  await owner.query(
    `insert into move (group_id, id, lot_id, kind, from_account, to_account, sticks, from_after, to_after, happened_at, recorded_by_id)
      select v.group_id, gen_random_uuid(), c.id, v.kind, v.from_account, v.to_account, v.sticks, v.from_after, v.to_after,
          v.happened_at, v.recorded_by_id
        ${from} move v on v.lot_id = c.pattern`,
  )
}

/** Pairs of moves that leave everything where it was. */
async function writeMoves(
  owner: pg.ClientBase,
  { groupId, helper }: TestGroup,
  longestId: string,
  { movesPerLot, movesOfLongest }: DeepHistoryOptions,
): Promise<void> {
  await owner.query(
    `insert into holding (group_id, lot_id, account, sticks) select group_id, id, 'lost', 0 from lot where group_id = $1`,
    [groupId],
  )
  await owner.query(
    `insert into move (group_id, id, lot_id, kind, from_account, to_account, sticks, from_after, to_after,
        happened_at, recorded_by_id, reason)
      select l.group_id, gen_random_uuid(), l.id,
          (case n % 2 when 1 then 'lose' else 'bring_back' end)::move_kind,
          case n % 2 when 1 then 'store' else 'lost' end, case n % 2 when 1 then 'lost' else 'store' end,
          1, case n % 2 when 1 then 19 else 0 end, case n % 2 when 1 then 1 else 20 end,
          timestamptz '2026-01-11 12:00Z' + n * interval '1 second', $2, 'counted again'
        from lot l
        cross join lateral generate_series(1, case l.id when $3 then $5::int else $4::int end) n
        where l.group_id = $1
        order by n, l.id`,
    [
      groupId,
      helper.memberId,
      longestId,
      movesPerLot - (movesPerLot % 2),
      movesOfLongest - (movesOfLongest % 2),
    ],
  )
}
