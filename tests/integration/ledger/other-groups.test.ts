import { beforeAll, describe, expect, test } from 'vitest'
import { anyCode, makeGroup, makeLot, type TestGroup, type TestLot } from '#tests/support/actors.ts'
import { testDatabase } from '#tests/support/database.ts'
import { makeOffering, makeSwap, type TestOffering } from '../swaps/swap-world.ts'
import { makeAttempt, makeCheck } from './graft-world.ts'
import { rawSqlAs } from './two-roles.ts'

const database = testDatabase()
const { owner, application } = rawSqlAs(database)

let ours: TestGroup
let theirs: TestGroup
let ourLot: TestLot
let theirLot: TestLot
let theirOffering: TestOffering
let ids: Record<string, string>

beforeAll(async () => {
  const { db } = database
  ours = await makeGroup(db)
  theirs = await makeGroup(db)
  ourLot = await makeLot(db, ours)
  theirLot = await makeLot(db, theirs)
  const ourSwap = await makeSwap(db, ours)
  const theirSwap = await makeSwap(db, theirs)
  theirOffering = await makeOffering(db, theirs, theirSwap)
  const ourAttempt = await makeAttempt(db, ours, ourLot)
  const theirAttempt = await makeAttempt(db, theirs, theirLot)
  const theirCheck = await makeCheck(db, theirs, theirAttempt, { pieces: 1, alive: 1, dead: 0 })
  ids = {
    ourGroup: ours.groupId,
    ourMember: ours.member.memberId,
    theirMember: theirs.member.memberId,
    ourLot: ourLot.lotId,
    theirLot: theirLot.lotId,
    ourLimb: ourLot.limbId,
    theirLimb: theirLot.limbId,
    ourTree: ourLot.treeId,
    theirTree: theirLot.treeId,
    ourVariety: ourLot.varietyId,
    theirVariety: theirLot.varietyId,
    ourStore: ourLot.storeId,
    theirStore: theirLot.storeId,
    ourSession: ourLot.sessionId,
    theirSession: theirLot.sessionId,
    ourSwap,
    theirSwap,
    theirOffering: theirOffering.offeringId,
    ourAttempt,
    theirAttempt,
    theirCheck,
    theirCode: theirLot.treeCode,
    fresh: db.newId(),
  }
})

/** Names in braces stand for ids: `{ourGroup}` and so on. */
const filled = (sql: string) => sql.replace(/\{(\w+)\}/g, (_, name: string) => `'${ids[name]}'`)

const crossings = {
  'a tree of our group with their keeper': `update tree set keeper_id = {theirMember} where id = {ourTree}`,
  'a limb on their tree': `insert into limb (group_id, id, tree_id, mark) values ({ourGroup}, {fresh}, {theirTree}, 'B')`,
  'a limb of their variety': `update limb set variety_id = {theirVariety} where id = {ourLimb}`,
  'a limb that grew from their graft': `update limb set from_attempt_id = {theirAttempt} where id = {ourLimb}`,
  'a store kept by one of them': `update store set keeper_id = {theirMember} where id = {ourStore}`,
  'a reading in their store': `insert into reading (group_id, store_id, at, celsius, basis) values ({ourGroup}, {theirStore}, now(), 3, 'typed')`,
  'a reading taken by one of them': `insert into reading (group_id, store_id, at, celsius, basis, taken_by_id) values ({ourGroup}, {ourStore}, now(), 3, 'typed', {theirMember})`,
  'a session cut by one of them': `update cutting_session set cutter_id = {theirMember} where id = {ourSession}`,
  'a stay in their store': `update stint set store_id = {theirStore} where lot_id = {ourLot}`,
  'a stay of their lot': `insert into stint (group_id, id, lot_id, store_id, began_at) values ({ourGroup}, {fresh}, {theirLot}, {ourStore}, now())`,
  'a synonym of their variety': `insert into variety_synonym (group_id, id, variety_id, name, name_key) values ({ourGroup}, {fresh}, {theirVariety}, 'x', 'x')`,
  'a hold on their lot': `insert into health_hold (group_id, id, lot_id, reason, placed_by_id, placed_at) values ({ourGroup}, {fresh}, {theirLot}, 'x', {ourMember}, now())`,
  'a hold on their limb': `insert into health_hold (group_id, id, limb_id, reason, placed_by_id, placed_at) values ({ourGroup}, {fresh}, {theirLimb}, 'x', {ourMember}, now())`,
  'a hold placed by one of them': `insert into health_hold (group_id, id, lot_id, reason, placed_by_id, placed_at) values ({ourGroup}, {fresh}, {ourLot}, 'x', {theirMember}, now())`,
  'a swap made by one of them': `update swap set created_by_id = {theirMember} where id = {ourSwap}`,
  'an offering of their lot': `insert into offering (group_id, id, swap_id, lot_id, sticks_per_share, shares, offered_by_id, offered_at) values ({ourGroup}, {fresh}, {ourSwap}, {theirLot}, 1, 1, {ourMember}, now())`,
  'an offering in their swap': `insert into offering (group_id, id, swap_id, lot_id, sticks_per_share, shares, offered_by_id, offered_at) values ({ourGroup}, {fresh}, {theirSwap}, {ourLot}, 1, 1, {ourMember}, now())`,
  'an offering by one of them': `insert into offering (group_id, id, swap_id, lot_id, sticks_per_share, shares, offered_by_id, offered_at) values ({ourGroup}, {fresh}, {ourSwap}, {ourLot}, 1, 1, {theirMember}, now())`,
  'an attempt with their lot': `insert into attempt (group_id, id, lot_id, variety_id, grower_id, recorded_by_id, method, made_on, pieces, sticks_used) values ({ourGroup}, {fresh}, {theirLot}, {ourVariety}, {ourMember}, {ourMember}, 'x', now(), 1, 1)`,
  'an attempt from their limb': `insert into attempt (group_id, id, from_limb_id, variety_id, grower_id, recorded_by_id, method, made_on, pieces, sticks_used) values ({ourGroup}, {fresh}, {theirLimb}, {ourVariety}, {ourMember}, {ourMember}, 'x', now(), 1, 0)`,
  'an attempt of their variety': `insert into attempt (group_id, id, variety_id, grower_id, recorded_by_id, method, made_on, pieces, sticks_used) values ({ourGroup}, {fresh}, {theirVariety}, {ourMember}, {ourMember}, 'x', now(), 1, 0)`,
  'an attempt on their tree': `update attempt set host_tree_id = {theirTree} where id = {ourAttempt}`,
  'an attempt by one of them': `update attempt set grower_id = {theirMember} where id = {ourAttempt}`,
  'a check of their attempt': `insert into outcome_check (group_id, id, attempt_id, pieces, checked_on, alive, dead, unknown, recorded_by_id) values ({ourGroup}, {fresh}, {theirAttempt}, 1, now(), 1, 0, 0, {ourMember})`,
  'a check by one of them': `insert into outcome_check (group_id, id, attempt_id, pieces, checked_on, alive, dead, unknown, recorded_by_id) values ({ourGroup}, {fresh}, {ourAttempt}, 1, now(), 1, 0, 0, {theirMember})`,
  'a check that supersedes theirs': `insert into outcome_check (group_id, id, attempt_id, pieces, checked_on, alive, dead, unknown, recorded_by_id, supersedes_id) values ({ourGroup}, {fresh}, {ourAttempt}, 1, now(), 1, 0, 0, {ourMember}, {theirCheck})`,
  'a cause in their check': `insert into check_cause (group_id, check_id, cause, pieces) values ({ourGroup}, {theirCheck}, 'x', 1)`,
  'an entry in the log by one of them': `insert into audit_entry (group_id, id, actor_id, action, subject) values ({ourGroup}, {fresh}, {theirMember}, 'x', 'x')`,
  'an invitation by one of them': `insert into invitation (group_id, id, email, role, token_hash, invited_by_id, expires_at) values ({ourGroup}, {fresh}, 'x@example.org', 'member', 'x', {theirMember}, now())`,
  'an invitation of one of them': `insert into invitation (group_id, id, email, role, token_hash, invited_by_id, member_id, expires_at) values ({ourGroup}, {fresh}, 'x@example.org', 'member', 'x', {ourMember}, {theirMember}, now())`,
} as const

const ownerOnly = {
  'sticks with one of them': `insert into holding (group_id, lot_id, account, member_id) values ({ourGroup}, {ourLot}, 'member:' || {theirMember}::text, {theirMember})`,
  'a holding of their lot': `insert into holding (group_id, lot_id, account) values ({ourGroup}, {theirLot}, 'promised')`,
  'a claim by one of them': `insert into claim (group_id, id, swap_id, offering_id, lot_id, member_id, variety_id, shares, sticks, recorded_by_id, made_at) values ({ourGroup}, {fresh}, {theirSwap}, {theirOffering}, {theirLot}, {theirMember}, {theirVariety}, 1, 1, {theirMember}, now())`,
  'a count of what one of them holds': `insert into taking (group_id, swap_id, member_id, scope, shares) values ({ourGroup}, {ourSwap}, {theirMember}, 'swap', 0)`,
  'a move recorded by one of them': `insert into move (group_id, id, lot_id, kind, from_account, to_account, sticks, from_after, to_after, happened_at, recorded_by_id) values ({ourGroup}, {fresh}, {ourLot}, 'use', 'store', 'used', 1, 0, 0, now(), {theirMember})`,
} as const

describe('no row points into another group', () => {
  test.each(Object.entries(crossings))('refuses %s, whoever writes it', async (_what, sql) => {
    expect(await owner.attack([filled(sql)])).toMatchObject({ state: '23503' })
    expect(await application.attack([filled(sql)])).toMatchObject({ state: '23503' })
  })

  test.each(Object.entries(ownerOnly))('refuses %s even from the owner', async (_what, sql) => {
    expect(await owner.attack([filled(sql)])).toMatchObject({ state: '23503' })
  })

  test('every crossing is refused for its crossing: the same rows within a group are taken', async () => {
    const within = (sql: string) =>
      sql
        .replace('{theirTree}', '{ourTree}')
        .replace('{theirStore}', '{ourStore}')
        .replace('{theirLot}', '{ourLot}')
        .replace('{theirLimb}', '{ourLimb}')
        .replace('{theirVariety}', '{ourVariety}')
        .replace('{theirSwap}', '{ourSwap}')
        .replace('{theirMember}', '{ourMember}')
        .replace('{theirAttempt}', '{ourAttempt}')
    // A limb from its own wood, an overlapping stay and what they alone have are refused for other reasons.
    const refusedAnyway = /grew from their graft|a stay of their lot|supersedes|a cause in/
    for (const [what, sql] of Object.entries(crossings)) {
      if (!refusedAnyway.test(what))
        expect((await owner.attack([filled(within(sql))])).state, what).toBe('accepted')
    }
  })

  test('the functions of the ledger know only their own group', async () => {
    const { db } = database
    const claim = [
      `select * from claim_shares($1, $2, $3, $4, $5, $5, 1, null, now(), $6, 'hash')`,
      [ours.groupId, db.newId(), db.newId(), theirOffering.offeringId, ours.member.memberId, db.newId()],
    ] as const
    expect(await application.attack(claim)).toMatchObject({ state: 'TW019' })
    const forThem = [
      `select * from claim_shares($1, $2, $3, $4, $5, $6, 1, null, now(), $7, 'hash')`,
      [
        theirs.groupId,
        db.newId(),
        db.newId(),
        theirOffering.offeringId,
        ours.member.memberId,
        theirs.member.memberId,
        db.newId(),
      ],
    ] as const
    expect(await application.attack(forThem)).toMatchObject({ state: 'TW019' })
    const byUs = [
      `select * from claim_shares($1, $2, $3, $4, $5, $6, 1, null, now(), $7, 'hash')`,
      [
        theirs.groupId,
        db.newId(),
        db.newId(),
        theirOffering.offeringId,
        theirs.member.memberId,
        ours.member.memberId,
        db.newId(),
      ],
    ] as const
    expect(await application.attack(byUs)).toMatchObject({ state: '23503' })
    const move = [
      `select move_sticks($1, $2, $3, 'lose', 'store', 'lost', 1, now(), $4, null, null, null)`,
      [ours.groupId, db.newId(), theirLot.lotId, ours.member.memberId],
    ] as const
    expect((await application.attack(move)).state).toMatch(/^(23503|TW010)$/)
  })
})

describe('a code is given once', () => {
  const issue = (code: string, kind: 'tree' | 'lot') =>
    [
      `insert into issued_code (group_id, code, kind) values ($1, $2, $3)`,
      [ours.groupId, code, kind],
    ] as const

  test('to a lot or to a tree, and never again in the same group', async () => {
    expect(await owner.attack(issue(ourLot.code, 'lot'))).toMatchObject({ state: '23505' })
    expect(await owner.attack(issue(ourLot.code, 'tree'))).toMatchObject({ state: '23505' })
    expect(await owner.attack(issue(ourLot.treeCode, 'lot'))).toMatchObject({ state: '23505' })
    expect(await application.attack(issue(ourLot.code, 'lot'))).toMatchObject({ state: '23505' })
  })

  test('and only when it was issued, as what it was issued for', async () => {
    const tree = (code: string) =>
      [
        `insert into tree (group_id, id, code, keeper_id) values ($1, $2, $3, $4)`,
        [ours.groupId, database.db.newId(), code, ours.member.memberId],
      ] as const
    expect(await application.attack(tree(anyCode()))).toMatchObject({ state: '23503' })
    expect(await application.attack(tree(ourLot.code))).toMatchObject({ state: '23503' })
    expect(await application.attack(tree(ourLot.treeCode))).toMatchObject({ state: '23505' })
    const posing = [`update tree set code_kind = 'lot' where id = $1`, [ourLot.treeId]] as const
    expect(await owner.attack(posing)).toMatchObject({ constraint: 'tree_code_is_a_tree_code' })
    const lot = [`update lot set code_kind = 'tree' where id = $1`, [ourLot.lotId]] as const
    expect(await owner.attack(lot)).toMatchObject({ constraint: 'lot_code_is_a_lot_code' })
  })

  test.each(['ABC10D', 'ABCOID', 'abcdef', 'ABC-DE', 'ABCDE'])(
    'in its 31 characters: not %s',
    async (code) => {
      expect(await application.attack(issue(code, 'lot'))).toMatchObject({
        constraint: 'code_uses_the_31_characters',
      })
    },
  )

  test('a tree and a lot keep theirs', async () => {
    const other = anyCode()
    for (const [table, id, kind] of [
      ['tree', ourLot.treeId, 'tree'],
      ['lot', ourLot.lotId, 'lot'],
    ] as const) {
      const change = [`update ${table} set code = $1 where id = $2`, [other, id]] as const
      expect(await application.attack(issue(other, kind), change), table).toMatchObject({ state: 'TW002' })
    }
  })
})
