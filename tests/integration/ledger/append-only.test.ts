import { beforeAll, describe, expect, test } from 'vitest'
import { moveSticks } from '#lib/ledger/move-sticks.ts'
import { makeGroup, makeLot, type TestGroup, type TestLot } from '#tests/support/actors.ts'
import { testDatabase } from '#tests/support/database.ts'
import { makeAttempt, makeCheck } from './graft-world.ts'
import { rawSqlAs } from './two-roles.ts'

const database = testDatabase()
const { owner, application } = rawSqlAs(database)

let group: TestGroup
let lot: TestLot

beforeAll(async () => {
  const { db } = database
  group = await makeGroup(db)
  lot = await makeLot(db, group)
  const { groupId, member } = group
  await db.prisma.auditEntry.create({
    data: { groupId, id: db.newId(), actorId: member.memberId, action: 'test', subject: 'lot' },
  })
  await db.prisma.idempotencyKey.create({
    data: { groupId, key: db.newId(), command: 'test', inputHash: 'a', answer: {} },
  })
  const attemptId = await makeAttempt(db, group, lot, { pieces: 4 })
  const checkId = await makeCheck(db, group, attemptId, { pieces: 4, alive: 2, dead: 2 })
  await db.prisma.checkCause.create({ data: { groupId, checkId, cause: 'dried_out', pieces: 1 } })
})

const entries = [
  { table: 'move', change: `update move set sticks = sticks + 1` },
  { table: 'move', change: `update move set reason = 'tidied up'` },
  { table: 'move', change: `delete from move` },
  { table: 'move', change: `truncate move cascade` },
  { table: 'audit_entry', change: `update audit_entry set action = 'nothing'` },
  { table: 'audit_entry', change: `delete from audit_entry` },
  { table: 'audit_entry', change: `truncate audit_entry` },
  { table: 'issued_code', change: `update issued_code set code = '222222'` },
  { table: 'issued_code', change: `delete from issued_code` },
  { table: 'issued_code', change: `truncate issued_code cascade` },
  { table: 'idempotency_key', change: `update idempotency_key set input_hash = 'b'` },
  { table: 'idempotency_key', change: `delete from idempotency_key` },
  { table: 'idempotency_key', change: `truncate idempotency_key` },
  { table: 'outcome_check', change: `update outcome_check set alive = 4, dead = 0` },
  { table: 'outcome_check', change: `delete from outcome_check` },
  { table: 'outcome_check', change: `truncate outcome_check cascade` },
  { table: 'check_cause', change: `update check_cause set pieces = 2` },
  { table: 'check_cause', change: `delete from check_cause` },
  { table: 'check_cause', change: `truncate check_cause` },
] as const

describe('an entry that was written stays as it was', () => {
  test.each(entries)('the owner of the tables is refused: $change', async ({ change }) => {
    expect(await owner.attack([change])).toMatchObject({ state: 'TW001' })
  })

  test.each(entries)('the application lacks the right: $change', async ({ change }) => {
    expect(await application.attack([change])).toMatchObject({ state: '42501' })
  })

  test.each([...new Set(entries.map(({ table }) => table))])(
    'there is a row of %s to attack',
    async (table) => {
      const [count] = await owner.query<{ rows: number }>(`select count(*)::int as rows from ${table}`)
      expect(count?.rows).toBeGreaterThan(0)
    },
  )

  test('emptying the tables around the ledger does not reach it either', async () => {
    expect(await owner.attack(['truncate lot cascade'])).toMatchObject({ state: 'TW001' })
    expect(await owner.attack(['truncate orchard_group cascade'])).toMatchObject({ state: 'TW001' })
  })

  test('a new key of a person does not creep into the entries that name them', async () => {
    const change = [
      'update member set id = $1 where group_id = $2 and id = $3',
      [database.db.newId(), group.groupId, group.member.memberId],
    ] as const
    expect(await owner.attack(change)).toMatchObject({ state: 'TW001' })
    expect(await application.attack(change)).toMatchObject({ state: 'TW001' })
  })
})

describe('who may write the ledger', () => {
  const wrongs = [
    ['holding', `update holding set sticks = 1000 where account = 'store'`],
    [
      'holding',
      `insert into holding (group_id, lot_id, account, sticks) select group_id, id, 'lost', 3 from lot`,
    ],
    ['holding', `delete from holding`],
    ['claim', `update claim set sticks = 1`],
    ['claim', `delete from claim`],
    ['taking', `update taking set shares = 0`],
    ['taking', `delete from taking`],
    ['offering', `update offering set shares_claimed = 0`],
    ['offering', `delete from offering`],
    ['health_hold', `delete from health_hold`],
    ['health_hold', `update health_hold set reason = 'none', lot_id = null`],
    ['lot', `delete from lot`],
    ['stint', `delete from stint`],
    ['attempt', `delete from attempt`],
    ['member', `delete from member`],
  ] as const

  test.each(wrongs)('the application may not touch %s: %s', async (_table, sql) => {
    expect(await application.attack([sql])).toMatchObject({ state: '42501' })
  })

  test('the application writes no move of its own', async () => {
    const written = [
      `insert into move (group_id, id, lot_id, kind, from_account, to_account, sticks, from_after, to_after, happened_at, recorded_by_id)
        values ($1, $2, $3, 'lose', 'store', 'cut', 1, 19, 1, now(), $4)`,
      [group.groupId, database.db.newId(), lot.lotId, group.member.memberId],
    ] as const
    expect(await application.attack(written)).toMatchObject({ state: '42501' })
  })

  test('the application writes no claim of its own', async () => {
    expect(
      await application.attack([
        `insert into claim (group_id, id, swap_id, offering_id, lot_id, member_id, variety_id, shares, sticks, recorded_by_id, made_at)
          select $1, $2, $2, $2, $3, $4, $5, 1, 1, $4, now()`,
        [group.groupId, database.db.newId(), lot.lotId, group.member.memberId, lot.varietyId],
      ]),
    ).toMatchObject({ state: '42501' })
    expect(
      await application.attack([
        `insert into taking (group_id, swap_id, member_id, scope, shares) values ($1, $2, $3, 'swap', 0)`,
        [group.groupId, database.db.newId(), group.member.memberId],
      ]),
    ).toMatchObject({ state: '42501' })
  })

  test.each([
    `select ledger_move($1, $2, $3, 'lose', 'store', 'lost', 1, now(), $4)`,
    `select ledger_seen($1, $2, 'claim', $3::text, jsonb_build_object('by', $4::text))`,
    `select ledger_serve($1, $2, now()) where $3::uuid is not null and $4::uuid is not null`,
    `select ledger_hold_offering($1, $2) where $3::uuid is not null and $4::uuid is not null`,
    `select ledger_note($1, $2, $3, $4, null, now(), 'nothing', '{}')`,
    `select ledger_promise($1, $2, $2, $2, $2, $3, 'ABCDEF', $2, $4, $4, 1, 1, 1, 0, 0, null, now(), 9, 9, 'x', $2, 'x', '{}')`,
    `select ledger_open_place($1, $2, now()) where $3::uuid is not null and $4::uuid is not null`,
    `select ledger_release_no_shows($1, $2, $4, now()) where $3::uuid is not null`,
    `select refuse_if_held($1, $2, $3) where $4::uuid is not null`,
  ])('the application may not call the inner function: %s', async (call) => {
    const values = [group.groupId, database.db.newId(), lot.lotId, group.member.memberId]
    expect(await application.attack([call, values])).toMatchObject({ state: '42501' })
  })

  test('the application may not switch a refusal off', async () => {
    for (const sql of [
      'alter table move disable trigger all',
      'drop trigger move_is_append_only on move',
      'alter table holding drop constraint holding_is_never_negative',
      `set session_replication_role = 'replica'`,
      'create or replace function refuse_change() returns trigger language plpgsql as $$ begin return new; end $$',
    ]) {
      expect((await application.attack([sql])).state, sql).toBe('42501')
    }
    // Granting what one does not have is a warning, not an error; it must still give nothing.
    const granted = ['grant update on move to tallywood_app', `update move set reason = 'x'`] as const
    expect(await application.attack(...granted)).toMatchObject({ state: '42501' })
  })

  test('the application cannot hide a table behind one of its own', async () => {
    const { db } = database
    const call = [
      `select move_sticks($1, $2, $3, 'lose', 'store', 'lost', 1, now(), $4, null, null, null)`,
      [group.groupId, db.newId(), lot.lotId, group.member.memberId],
    ] as const
    const before = await application.query<{ sticks: number }>(
      `select sticks from public.holding where lot_id = $1 and account = 'store'`,
      [lot.lotId],
    )
    expect(
      await application.attack(
        ['create temporary table holding (like public.holding) on commit drop'],
        [`insert into pg_temp.holding values ($1, $2, 'store', null, 1000)`, [group.groupId, lot.lotId]],
        call,
        [
          `do $$ begin
            if (select sticks from public.holding where account = 'lost') is distinct from 1 then
              raise exception 'the move went into the temporary table';
            end if;
          end $$`,
        ],
      ),
    ).toMatchObject({ state: 'accepted' })
    expect(before).toHaveLength(1)
  })

  test('through its functions the application may', async () => {
    const { db } = database
    const left = await moveSticks(db.prisma, {
      groupId: group.groupId,
      id: db.newId(),
      lotId: lot.lotId,
      kind: 'lose',
      from: 'store',
      to: 'lost',
      sticks: 1,
      happenedAt: db.now(),
      recordedBy: group.member.memberId,
      reason: 'mould',
    })
    expect(left).toBeGreaterThan(0)
  })
})
