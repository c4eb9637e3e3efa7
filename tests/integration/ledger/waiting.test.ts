import { beforeAll, describe, expect, test } from 'vitest'
import { claimOffering } from '#lib/swaps/claim-offering.ts'
import { joinWaitingList } from '#lib/swaps/join-waiting-list.ts'
import { makeGroup, makeLot, type TestGroup } from '#tests/support/actors.ts'
import { testDatabase } from '#tests/support/database.ts'
import { makeOffering, makeSwap, type TestOffering, valueIn } from '../swaps/swap-world.ts'
import { rawSqlAs } from './two-roles.ts'

const database = testDatabase()
const { owner, application } = rawSqlAs(database)

let group: TestGroup
let others: TestGroup
let swapId: string
let offering: TestOffering
let waitingId: string
let claimId: string

beforeAll(async () => {
  const { db } = database
  group = await makeGroup(db)
  others = await makeGroup(db)
  swapId = await makeSwap(db, group)
  offering = await makeOffering(db, group, swapId, { shares: 2 })
  const asked = { offeringId: offering.offeringId, memberId: undefined, purpose: undefined }
  const claimed = await claimOffering(db, group.member, { ...asked, key: db.newId(), shares: 2 })
  claimId = valueIn(claimed).claimId
  const joined = await joinWaitingList(db, group.otherMember, { ...asked, key: db.newId(), shares: 1 })
  waitingId = valueIn(joined).waitingId
})

/** Gives the claim back, so that the one who waits is offered a share. */
const givenBack = () =>
  [
    `select * from cancel_claim($1, $2, $3, $4, now(), null, $3, 'hash')`,
    [group.groupId, claimId, database.db.newId(), group.member.memberId],
  ] as const
const accepted = (by = group.otherMember.memberId, key = database.db.newId(), groupId = group.groupId) =>
  [
    `select * from accept_waiting($1, $2, $3, $4, $5, now(), $6, 'hash')`,
    [groupId, waitingId, database.db.newId(), database.db.newId(), by, key],
  ] as const
const left = (by = group.otherMember.memberId, groupId = group.groupId) =>
  [
    `select * from leave_waiting($1, $2, $3, $4, now(), $3, 'hash')`,
    [groupId, waitingId, database.db.newId(), by],
  ] as const
const joined = (by: string, shares = 1, groupId = group.groupId) =>
  [
    `select * from join_waiting($1, $2, $3, $4, $4, $5, null, now(), $2, 'hash')`,
    [groupId, database.db.newId(), offering.offeringId, by, shares],
  ] as const

describe('a place in the waiting list', () => {
  test.each([
    `insert into waiting (group_id, id, swap_id, offering_id, lot_id, member_id, shares, recorded_by_id, asked_at)
      select group_id, claim_id, swap_id, offering_id, lot_id, recorded_by_id, 1, member_id, now() from waiting`,
    'delete from waiting',
    'truncate waiting',
    `update waiting set status = 'offered', offered_shares = 1, offered_at = now(), expires_at = now() + interval '1 hour'`,
    'update waiting set seq = 0',
    'update offering set shares_reserved = 1',
  ])('is written by the ledger alone: %s', async (sql) => {
    expect(await application.attack([sql])).toMatchObject({ state: '42501' })
  })

  test.each([
    'delete from waiting',
    'truncate waiting',
    'update waiting set seq = seq + 1',
    'update waiting set member_id = recorded_by_id, recorded_by_id = member_id, shares = 2',
    `update waiting set asked_at = asked_at - interval '1 day'`,
  ])('keeps its order against the owner as well: %s', async (sql) => {
    expect(await owner.attack([sql])).toMatchObject({ state: 'TW001' })
  })

  test('that is settled stays settled', async () => {
    const again = [
      `update waiting set status = 'waiting', settled_at = null where id = $1`,
      [waitingId],
    ] as const
    expect(await owner.attack(left(), again)).toMatchObject({ state: 'TW001' })
    expect(await owner.attack(left(), ['delete from waiting'])).toMatchObject({ state: 'TW001' })
  })

  test.each([
    [`status = 'offered'`, 'waiting_status_says_what_was_offered'],
    [`offered_shares = 1`, 'waiting_offer_is_whole'],
    [
      `status = 'offered', offered_shares = 2, offered_at = now(), expires_at = now() + interval '1 hour'`,
      'waiting_offer_is_whole',
    ],
    [
      `status = 'offered', offered_shares = 1, offered_at = now(), expires_at = now()`,
      'waiting_offer_is_whole',
    ],
    [`status = 'left'`, 'waiting_is_settled_once'],
    [`settled_at = now()`, 'waiting_is_settled_once'],
    [`told_at = now()`, 'waiting_person_is_told_of_an_offer'],
    [
      `status = 'accepted', settled_at = now(), offered_shares = 1, offered_at = now(), expires_at = now() + interval '1 hour'`,
      'waiting_that_was_accepted_names_its_claim',
    ],
  ])('is not written as %s', async (change, constraint) => {
    expect(await owner.attack([`update waiting set ${change} where id = $1`, [waitingId]])).toMatchObject({
      state: '23514',
      constraint,
    })
  })

  test('is one for a person and a lot, and of their own group', async () => {
    const copy = (column: string, value: string) =>
      [
        `insert into waiting (group_id, id, swap_id, offering_id, lot_id, member_id, shares, recorded_by_id, asked_at)
          select group_id, gen_random_uuid(), swap_id, offering_id, ${column === 'lot_id' ? '$2' : 'lot_id'},
            ${column === 'member_id' ? '$2' : 'member_id'}, 1, recorded_by_id, now() from waiting where id = $1`,
        column === '' ? [waitingId] : [waitingId, value],
      ] as const
    expect(await owner.attack(copy('', ''))).toMatchObject({
      constraint: 'waiting_once_per_member_and_offering',
    })
    expect(await owner.attack(copy('member_id', others.member.memberId))).toMatchObject({ state: '23503' })
    const lot = await makeLot(database.db, group)
    expect(await owner.attack(left(), [copy('lot_id', lot.lotId)[0], [waitingId, lot.lotId]])).toMatchObject({
      state: '23503',
    })
  })
})

describe('shares kept for the line', () => {
  test('are never more than there are', async () => {
    for (const reserved of [-1, 1]) {
      expect(
        await owner.attack([
          `update offering set shares_reserved = $1 where id = $2`,
          [reserved, offering.offeringId],
        ]),
      ).toMatchObject({ constraint: 'offering_keeps_what_is_reserved' })
    }
    const fewer = [`update offering set shares = 1 where id = $1`, [offering.offeringId]] as const
    expect(await application.attack(fewer)).toMatchObject({ constraint: 'offering_is_never_over_claimed' })
    const none = [
      `update offering set shares = 1, sticks_per_share = 1 where id = $1 and shares_reserved = 1`,
      [offering.offeringId],
    ] as const
    expect(await application.attack(givenBack(), none)).toMatchObject({ state: 'accepted' })
  })

  test('are not offered with a new lot', async () => {
    const lot = await makeLot(database.db, group)
    expect(
      await application.attack([
        `insert into offering (group_id, id, swap_id, lot_id, sticks_per_share, shares, shares_reserved, offered_by_id, offered_at)
          values ($1, $2, $3, $4, 1, 5, 3, $5, now())`,
        [group.groupId, database.db.newId(), swapId, lot.lotId, group.organiser.memberId],
      ]),
    ).toMatchObject({ state: 'TW022' })
  })
})

describe('the functions of the line', () => {
  test('offer in order, once, and only what was offered is accepted', async () => {
    expect(await application.attack(accepted())).toMatchObject({ state: 'TW026' })
    expect(await application.attack(givenBack(), accepted())).toMatchObject({ state: 'accepted' })
    expect(await application.attack(givenBack(), accepted(), accepted())).toMatchObject({ state: 'TW026' })
    const key = database.db.newId()
    const twice = [accepted(undefined, key), accepted(undefined, key)] as const
    expect(await application.attack(givenBack(), ...twice)).toMatchObject({ state: 'accepted' })
    const late = [`update waiting set expires_at = now() + interval '1 microsecond'`] as const
    expect(
      await owner.attack(givenBack(), late, [
        `select * from accept_waiting($1, $2, $3, $4, $5, now() + interval '1 second', $3, 'hash')`,
        [group.groupId, waitingId, database.db.newId(), database.db.newId(), group.otherMember.memberId],
      ]),
    ).toMatchObject({ state: 'TW026' })
  })

  test('refuse nobody’s shares, other groups, held wood, a swap that is over, and people who left', async () => {
    const { memberId } = group.helper
    for (const shares of [0, -1, 3])
      expect(await application.attack(joined(memberId, shares))).toMatchObject({ state: 'TW011' })
    expect(await application.attack(joined(group.otherMember.memberId))).toMatchObject({ state: 'TW027' })
    expect(await application.attack(joined(group.member.memberId))).toMatchObject({ state: 'TW021' })
    expect(await application.attack(joined(others.member.memberId))).toMatchObject({ state: 'TW019' })
    expect(await application.attack(joined(others.member.memberId, 1, others.groupId))).toMatchObject({
      state: 'TW019',
    })
    expect(
      await application.attack(accepted(others.member.memberId, undefined, others.groupId)),
    ).toMatchObject({
      state: 'TW019',
    })
    expect(await application.attack(left(others.member.memberId, others.groupId))).toMatchObject({
      state: 'TW019',
    })
    expect(await application.attack(givenBack(), accepted(others.member.memberId))).toMatchObject({
      state: '23503',
    })
    const gone = [`update member set left_on = now() where id = $1`, [group.otherMember.memberId]] as const
    expect(await application.attack(givenBack(), gone, accepted())).toMatchObject({ state: 'TW019' })
    const held = [
      `insert into health_hold (group_id, id, lot_id, reason, placed_by_id, placed_at) values ($1, $2, $3, 'canker', $4, now())`,
      [group.groupId, database.db.newId(), offering.lotId, group.steward.memberId],
    ] as const
    expect(await application.attack(givenBack(), held, accepted())).toMatchObject({ state: 'TW015' })
    const over = [`update swap set status = 'finished' where id = $1`, [swapId]] as const
    expect(await application.attack(givenBack(), over, accepted())).toMatchObject({ state: 'TW014' })
  })

  test('leave the ledger true', async () => {
    const isTrue = `do $$ begin
      if exists (select from ledger_fault) then raise exception 'a fault'; end if;
    end $$`
    expect(await owner.attack(givenBack(), accepted(), [isTrue])).toMatchObject({ state: 'accepted' })
    expect(await owner.attack(givenBack(), left(), [isTrue])).toMatchObject({ state: 'accepted' })
  })
})

describe('changed claims and the stated time', () => {
  const changed = (shares: number, groupId = group.groupId) =>
    [
      `select * from change_claim($1, $2, $3, $4, $5, now(), $3, 'hash')`,
      [groupId, claimId, database.db.newId(), group.member.memberId, shares],
    ] as const
  const noShows = (groupId = group.groupId) =>
    [
      `select * from release_no_shows($1, $2, $3, now(), $4, 'hash')`,
      [groupId, swapId, group.organiser.memberId, database.db.newId()],
    ] as const

  test('keep to what there is, to standing claims, and to their group', async () => {
    for (const shares of [0, -1, 2])
      expect(await application.attack(changed(shares))).toMatchObject({ state: 'TW022' })
    expect(await application.attack(changed(3))).toMatchObject({ state: 'TW011' })
    expect(await application.attack(changed(1, others.groupId))).toMatchObject({ state: 'TW019' })
    expect(await application.attack(givenBack(), changed(1))).toMatchObject({ state: 'TW022' })
    // What is let go of is the next one’s, and cannot be had back past them.
    expect(await application.attack(changed(1), changed(2))).toMatchObject({ state: 'TW011' })
  })

  test('come from the swap, and not before', async () => {
    expect(await application.attack(noShows())).toMatchObject({ state: 'TW025' })
    expect(await application.attack(noShows(others.groupId))).toMatchObject({ state: 'TW019' })
    const stated = [
      `update swap set claims_close_at = now() - interval '1 minute', no_show_at = now() where id = $1`,
      [swapId],
    ] as const
    expect(await application.attack(stated, noShows())).toMatchObject({ state: 'accepted' })
    const over = [`update swap set status = 'finished' where id = $1`, [swapId]] as const
    expect(await application.attack(stated, over, noShows())).toMatchObject({ state: 'TW014' })
  })

  test.each([
    [`waiting_hours = 0`, 'swap_offers_lapse_in_time'],
    [`no_show_at = claims_open_at`, 'swap_waits_for_people_after_claims_close'],
    [`no_shows_released_at = now()`, 'swap_releases_no_shows_at_their_time'],
  ])('a swap is not written with %s', async (change, constraint) => {
    expect(await application.attack([`update swap set ${change} where id = $1`, [swapId]])).toMatchObject({
      constraint,
    })
  })
})

describe('a lot that is split', () => {
  const split = (sticks: number, changes: { readonly groupId?: string; readonly storeId?: string } = {}) => {
    const { db } = database
    return [
      [
        `insert into issued_code (group_id, code, kind) values ($1, '777777', 'lot')`,
        [changes.groupId ?? group.groupId],
      ],
      [
        `select split_lot($1, $2, $3, '777777', $4, $5, $6, now(), $7, $8, $9, null)`,
        [
          changes.groupId ?? group.groupId,
          offering.lotId,
          db.newId(),
          changes.storeId ?? offering.storeId,
          db.newId(),
          sticks,
          group.member.memberId,
          db.newId(),
          db.newId(),
        ],
      ],
    ] as const
  }

  test('gives what lies free in it, and neither what is promised nor what is kept for the line', async () => {
    expect(await application.attack(...split(1))).toMatchObject({ state: 'TW010' })
    expect(await application.attack(givenBack(), ...split(3))).toMatchObject({ state: 'TW010' })
    expect(await application.attack(givenBack(), ...split(0))).toMatchObject({ state: '23514' })
    expect(await application.attack(givenBack(), ...split(2))).toMatchObject({ state: 'accepted' })
  })

  test('is of the same limb and session, for good, and in the same group', async () => {
    const lot = await makeLot(database.db, group)
    const parent = [`update lot set split_from_id = $1 where id = $2`, [offering.lotId, lot.lotId]] as const
    expect(await application.attack(parent)).toMatchObject({ state: 'TW002' })
    const posing = [
      `insert into lot (group_id, id, code, limb_id, session_id, cut_on, kind, diameter, bud_stage, packaging, split_from_id)
        select group_id, $2, '777777', limb_id, session_id, cut_on, kind, diameter, bud_stage, packaging, $3 from lot where id = $1`,
      [lot.lotId, database.db.newId(), offering.lotId],
    ] as const
    const code = [
      `insert into issued_code (group_id, code, kind) values ($1, '777777', 'lot')`,
      [group.groupId],
    ] as const
    expect(await application.attack(code, posing)).toMatchObject({ state: '23503' })
    expect(await application.attack(...split(1, { groupId: others.groupId }))).toMatchObject({
      state: 'TW019',
    })
    const theirs = await makeLot(database.db, others)
    expect(await application.attack(givenBack(), ...split(1, { storeId: theirs.storeId }))).toMatchObject({
      state: '23503',
    })
  })

  test('is not moved nor corrected past its own function', async () => {
    const move = [
      `select move_sticks($1, $2, $3, 'split', 'store', 'cut', 1, now(), $4, null, null, null)`,
      [group.groupId, database.db.newId(), offering.lotId, group.member.memberId],
    ] as const
    expect(await application.attack(move)).toMatchObject({ state: 'TW022' })
    const back = [
      `select reverse_move($1, $2, (select id from move where kind = 'split' limit 1), $3, now(), 'wrong')`,
      [group.groupId, database.db.newId(), group.member.memberId],
    ] as const
    expect(await application.attack(givenBack(), ...split(1), back)).toMatchObject({ state: 'TW022' })
  })
})
