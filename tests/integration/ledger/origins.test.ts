import { beforeAll, describe, expect, test } from 'vitest'
import { makeGroup, makeLot, type TestGroup, type TestLot } from '#tests/support/actors.ts'
import { testDatabase } from '#tests/support/database.ts'
import { makeAttempt, makeCheck } from './graft-world.ts'
import { rawSqlAs } from './two-roles.ts'

const database = testDatabase()
const { owner, application } = rawSqlAs(database)

let group: TestGroup
let lot: TestLot
let other: TestLot
let attemptId: string

beforeAll(async () => {
  const { db } = database
  group = await makeGroup(db)
  lot = await makeLot(db, group)
  other = await makeLot(db, group)
  attemptId = await makeAttempt(db, group, lot, { pieces: 10 })
})

describe('where wood came from is never changed', () => {
  const changes = [
    ['the limb of a lot', 'update lot set limb_id = $2 where id = $1', () => [lot.lotId, other.limbId]],
    [
      'the session of a lot',
      'update lot set session_id = $2 where id = $1',
      () => [lot.lotId, other.sessionId],
    ],
    ['the day of a lot', `update lot set cut_on = '2026-01-11' where id = $1`, () => [lot.lotId]],
    ['the key of a lot', 'update lot set id = $2 where id = $1', () => [lot.lotId, database.db.newId()]],
    ['the lot of an attempt', 'update attempt set lot_id = $2 where id = $1', () => [attemptId, other.lotId]],
    [
      'the lot of an attempt, to none',
      'update attempt set lot_id = null, sticks_used = 0 where id = $1',
      () => [attemptId],
    ],
    [
      'the limb of an attempt',
      'update attempt set from_limb_id = $2 where id = $1',
      () => [attemptId, other.limbId],
    ],
    [
      'the variety of an attempt',
      'update attempt set variety_id = $2 where id = $1',
      () => [attemptId, other.varietyId],
    ],
    ['the pieces of an attempt', 'update attempt set pieces = 11 where id = $1', () => [attemptId]],
    ['the sticks of an attempt', 'update attempt set sticks_used = 2 where id = $1', () => [attemptId]],
    ['the tree of a limb', 'update limb set tree_id = $2 where id = $1', () => [lot.limbId, other.treeId]],
    ['the key of a limb', 'update limb set id = $2 where id = $1', () => [lot.limbId, database.db.newId()]],
    ['the key of a tree', 'update tree set id = $2 where id = $1', () => [lot.treeId, database.db.newId()]],
  ] as const

  test.each(changes)('not %s', async (_what, sql, values) => {
    expect(await owner.attack([sql, values()])).toMatchObject({ state: 'TW002' })
    expect(await application.attack([sql, values()])).toMatchObject({ state: 'TW002' })
  })

  test('the day of a session that lots were cut in stays theirs', async () => {
    const change = [
      `update cutting_session set cut_on = '2026-01-12' where id = $1`,
      [lot.sessionId],
    ] as const
    expect((await owner.attack(change)).state).not.toBe('accepted')
  })

  test('a lot is cut on the day of its session', async () => {
    expect(
      await owner.attack([
        `insert into lot (group_id, id, code, limb_id, session_id, cut_on, kind, diameter, bud_stage, packaging)
          select group_id, $2, code, limb_id, session_id, cut_on + 1, kind, diameter, bud_stage, packaging
          from lot where id = $1`,
        [lot.lotId, database.db.newId()],
      ]),
    ).toMatchObject({ state: expect.stringMatching(/^(23503|23505)$/) })
  })

  test('what does not touch the origin may change', async () => {
    expect(
      await application.attack([`update lot set note = 'thin' where id = $1`, [lot.lotId]]),
    ).toMatchObject({
      state: 'accepted',
    })
  })
})

describe('no limb comes from its own wood', () => {
  const grew = (limbId: string, fromAttempt: string) =>
    [`update limb set from_attempt_id = $2 where id = $1`, [limbId, fromAttempt]] as const

  test('not from a graft of its own lot', async () => {
    expect(await application.attack(grew(lot.limbId, attemptId))).toMatchObject({ state: 'TW020' })
    expect(await owner.attack(grew(lot.limbId, attemptId))).toMatchObject({ state: 'TW020' })
  })

  test('not from a graft of its own wood without a lot', async () => {
    const own = database.db.newId()
    expect(
      await application.attack(
        [
          `insert into attempt (group_id, id, from_limb_id, variety_id, grower_id, recorded_by_id, method, made_on, pieces, sticks_used)
            values ($1, $2, $3, $4, $5, $5, 'cleft', now(), 1, 0)`,
          [group.groupId, own, lot.limbId, lot.varietyId, group.member.memberId],
        ],
        grew(lot.limbId, own),
      ),
    ).toMatchObject({ state: 'TW020' })
  })

  test('not by way of any number of grafts and lots', async () => {
    const { db } = database
    const third = await makeLot(db, group)
    const fromOther = await makeAttempt(db, group, other)
    const fromThird = await makeAttempt(db, group, third)
    // lot → its graft grew into the limb of `other` → whose graft grew into the limb of `third` → back to the first
    const steps = [grew(other.limbId, attemptId), grew(third.limbId, fromOther)]
    expect(await application.attack(...steps)).toMatchObject({ state: 'accepted' })
    expect(await application.attack(...steps, grew(lot.limbId, fromThird))).toMatchObject({ state: 'TW020' })
  })

  test('a limb made from a graft says it is grafted, or own', async () => {
    expect(
      await application.attack([
        `update limb set from_attempt_id = $2, origin = 'unknown' where id = $1`,
        [other.limbId, attemptId],
      ]),
    ).toMatchObject({ constraint: 'limb_from_an_attempt_is_grafted_or_own' })
  })
})

describe('what an attempt and its checks can say', () => {
  const check = (counts: readonly [alive: number, dead: number, unknown: number], pieces = 10) =>
    [
      `insert into outcome_check (group_id, id, attempt_id, pieces, checked_on, alive, dead, unknown, recorded_by_id)
        values ($1, $2, $3, $4, now(), $5, $6, $7, $8)`,
      [group.groupId, database.db.newId(), attemptId, pieces, ...counts, group.member.memberId],
    ] as const

  test.each([[[5, 4, 0]], [[5, 5, 1]], [[11, -1, 0]], [[12, 0, -2]], [[0, 0, 0]]] as const)(
    'alive, dead and unknown make the pieces: not %j of 10',
    async (counts) => {
      expect(await application.attack(check(counts))).toMatchObject({ constraint: 'check_counts_add_up' })
      expect(await owner.attack(check(counts))).toMatchObject({ constraint: 'check_counts_add_up' })
    },
  )

  test('the pieces are those of the attempt', async () => {
    expect(await application.attack(check([4, 4, 0], 8))).toMatchObject({ state: '23503' })
    expect(await application.attack(check([4, 5, 1]))).toMatchObject({ state: 'accepted' })
  })

  test('causes explain no more than the dead, one by one or all at once', async () => {
    const { db } = database
    const checkId = await makeCheck(db, group, attemptId, { pieces: 10, alive: 7, dead: 3 })
    const cause = (name: string, pieces: number) =>
      [
        `insert into check_cause (group_id, check_id, cause, pieces) values ($1, $2, $3, $4)`,
        [group.groupId, checkId, name, pieces],
      ] as const
    expect(await application.attack(cause('mould', 4))).toMatchObject({ state: 'TW023' })
    expect(await application.attack(cause('mould', 2), cause('dried_out', 2))).toMatchObject({
      state: 'TW023',
    })
    expect(await application.attack(cause('mould', 2), cause('mould', 1))).toMatchObject({ state: '23505' })
    expect(await application.attack(cause('mould', 0))).toMatchObject({ constraint: 'cause_counts_pieces' })
    expect(await application.attack(cause('mould', 2), cause('dried_out', 1))).toMatchObject({
      state: 'accepted',
    })
    expect(
      await application.attack([
        `insert into check_cause (group_id, check_id, cause, pieces)
          select $1, $2, name, 1 from unnest(array['a', 'b', 'c', 'd']) as name`,
        [group.groupId, checkId],
      ]),
    ).toMatchObject({ state: 'TW023' })
  })

  test('a check is superseded once, by one of the same attempt', async () => {
    const { db } = database
    const first = await makeCheck(db, group, attemptId, { pieces: 10, alive: 7, dead: 3 })
    const elsewhere = await makeAttempt(db, group, other, { pieces: 10 })
    const superseding = (of: string) =>
      [
        `insert into outcome_check (group_id, id, attempt_id, pieces, checked_on, alive, dead, unknown, recorded_by_id, supersedes_id)
          values ($1, $2, $3, 10, now(), 6, 4, 0, $4, $5)`,
        [group.groupId, db.newId(), of, group.member.memberId, first],
      ] as const
    expect(await application.attack(superseding(attemptId))).toMatchObject({ state: 'accepted' })
    expect(await application.attack(superseding(elsewhere))).toMatchObject({ state: '23503' })
    expect(await application.attack(superseding(attemptId), superseding(attemptId))).toMatchObject({
      state: '23505',
    })
  })

  test.each([
    ['no pieces', `0, 0, null`, 'attempt_has_pieces'],
    ['sticks of no lot', `1, 1, null`, 'attempt_uses_sticks_only_of_a_lot'],
    ['a lot without a stick of it', `1, 0, '{lot}'`, 'attempt_uses_sticks_only_of_a_lot'],
    ['fewer than no sticks', `1, -1, '{lot}'`, 'attempt_uses_sticks_only_of_a_lot'],
  ])('an attempt does not have %s', async (_what, values, constraint) => {
    expect(
      await application.attack([
        `insert into attempt (pieces, sticks_used, lot_id, group_id, id, variety_id, grower_id, recorded_by_id, method, made_on)
          values (${values.replace('{lot}', lot.lotId)}, $1, $2, $3, $4, $4, 'cleft', now())`,
        [group.groupId, database.db.newId(), lot.varietyId, group.member.memberId],
      ]),
    ).toMatchObject({ constraint })
  })

  test('an attempt is withdrawn with a reason', async () => {
    expect(
      await application.attack([`update attempt set withdrawn_at = now() where id = $1`, [attemptId]]),
    ).toMatchObject({ constraint: 'attempt_withdrawal_has_a_reason' })
  })
})

describe('a lot is in one store at a time', () => {
  const stay = (from: string, to: string | null) =>
    [
      `insert into stint (group_id, id, lot_id, store_id, began_at, ended_at) values ($1, $2, $3, $4, $5, $6)`,
      [group.groupId, database.db.newId(), other.lotId, lot.storeId, from, to],
    ] as const
  const ended = [`update stint set ended_at = '2026-02-01' where lot_id = $1`, () => [other.lotId]] as const

  test('a second stay does not begin before the first has ended', async () => {
    for (const sql of [owner, application]) {
      expect(await sql.attack(stay('2026-02-01', null))).toMatchObject({
        state: '23P01',
        constraint: 'stints_of_a_lot_do_not_overlap',
      })
    }
  })

  test('nor within it, nor around it', async () => {
    for (const [from, to] of [
      ['2026-01-15', '2026-01-20'],
      ['2026-01-01', '2026-03-01'],
      ['2026-01-31 23:59', null],
    ] as const) {
      const attack = await application.attack([ended[0], ended[1]()], stay(from, to))
      expect(attack.state, `${from} to ${to}`).toBe('23P01')
    }
  })

  test('it may begin the moment the first has ended', async () => {
    expect(await application.attack([ended[0], ended[1]()], stay('2026-02-01', null))).toMatchObject({
      state: 'accepted',
    })
  })

  test('a stay is not stretched over the next one', async () => {
    expect(
      await application.attack([ended[0], ended[1]()], stay('2026-02-01', null), [
        `update stint set ended_at = null where lot_id = $1`,
        [other.lotId],
      ]),
    ).toMatchObject({ state: '23P01' })
  })

  test('a stay ends after it began', async () => {
    expect(
      await application.attack([`update stint set ended_at = began_at where lot_id = $1`, [other.lotId]]),
    ).toMatchObject({ constraint: 'stint_ends_after_it_began' })
  })
})
