import { beforeAll, describe, expect, test } from 'vitest'
import type { Actor } from '#lib/access/actor.ts'
import type { ProtectionStatus } from '#lib/platform/generated/enums.ts'
import { makeGroup, makeLot, type TestGroup, type TestLot } from '#tests/support/actors.ts'
import { testDatabase } from '#tests/support/database.ts'
import { makeOffering, makeSwap, type TestOffering } from '../swaps/swap-world.ts'
import { rawSqlAs } from './two-roles.ts'

const database = testDatabase()
const { owner, application } = rawSqlAs(database)

let group: TestGroup
let swapId: string

beforeAll(async () => {
  group = await makeGroup(database.db)
  swapId = await makeSwap(database.db, group)
})

const offer = (lot: TestLot, by: Actor, override: string | null = null) =>
  [
    `insert into offering (group_id, id, swap_id, lot_id, sticks_per_share, shares, offered_by_id, offered_at, override_reason)
      values ($1, $2, $3, $4, 1, 1, $5, now(), $6)`,
    [group.groupId, database.db.newId(), swapId, lot.lotId, by.memberId, override],
  ] as const

describe('what may not be offered', () => {
  const setProtection = (lot: TestLot, protection: ProtectionStatus, introducedYear: number | null) =>
    database.db.prisma.variety.update({
      where: { groupId_id: { groupId: group.groupId, id: lot.varietyId } },
      data: { protection, introducedYear },
    })
  const thisYear = new Date().getFullYear()

  test.each([
    ['in_force', null],
    ['in_force', 1900],
    ['pending', null],
    ['breeders_right', null],
    ['unknown', null],
    ['unknown', thisYear - 10],
  ] as const)('a variety whose protection is %s, introduced %s', async (protection, year) => {
    const lot = await makeLot(database.db, group)
    await setProtection(lot, protection, year)
    for (const sql of [application, owner]) {
      expect(await sql.attack(offer(lot, group.organiser))).toMatchObject({ state: 'TW016' })
      expect(await sql.attack(offer(lot, group.organiser, '  '))).toMatchObject({ state: 'TW016' })
      expect(await sql.attack(offer(lot, group.helper, 'licence'))).toMatchObject({ state: 'TW016' })
    }
    expect(await application.attack(offer(lot, group.steward, 'licence'))).toMatchObject({
      state: 'accepted',
    })
  })

  test.each([
    ['none_known', null],
    ['expired', thisYear - 5],
    ['unknown', thisYear - 40],
  ] as const)('but one whose protection is %s, introduced %s, may', async (protection, year) => {
    const lot = await makeLot(database.db, group)
    await setProtection(lot, protection, year)
    expect(await application.attack(offer(lot, group.helper))).toMatchObject({ state: 'accepted' })
  })

  test('the reason to override is not taken away afterwards, nor the offering turned to another lot', async () => {
    const free = await makeOffering(database.db, group, swapId)
    const lot = await makeLot(database.db, group)
    await setProtection(lot, 'in_force', null)
    expect(
      await owner.attack(offer(lot, group.steward, 'licence'), [
        'update offering set override_reason = null where lot_id = $1',
        [lot.lotId],
      ]),
    ).toMatchObject({ state: 'TW016' })
    const turned = [`update offering set lot_id = $1 where id = $2`, [lot.lotId, free.offeringId]] as const
    expect(await owner.attack(turned)).toMatchObject({ state: 'TW016' })
    expect(await application.attack(turned)).toMatchObject({ state: '42501' })
  })

  test('wood of the citrus family, by anybody, with any reason', async () => {
    const citrus = { taxonKey: 'citrus-limon', genus: 'Citrus', family: 'Rutaceae' }
    const lot = await makeLot(database.db, group, citrus)
    for (const sql of [application, owner])
      expect(await sql.attack(offer(lot, group.organiser, 'licence'))).toMatchObject({ state: 'TW017' })
  })

  test('grape wood, until the group allows it', async () => {
    const grape = { taxonKey: 'vitis-vinifera', genus: 'Vitis', family: 'Vitaceae' }
    const lot = await makeLot(database.db, group, grape)
    expect(await application.attack(offer(lot, group.organiser, 'licence'))).toMatchObject({ state: 'TW017' })
    const allowed = [`update orchard_group set allows_vitis = true where id = $1`, [group.groupId]] as const
    expect(await application.attack(allowed, offer(lot, group.organiser))).toMatchObject({
      state: 'accepted',
    })
  })

  test('wood without a name', async () => {
    const lot = await makeLot(database.db, group)
    const unnamed = [`update limb set variety_id = null where id = $1`, [lot.limbId]] as const
    expect(await application.attack(unnamed, offer(lot, group.organiser))).toMatchObject({ state: 'TW024' })
  })

  test('the same lot twice in one swap', async () => {
    const lot = await makeLot(database.db, group)
    const twice = [offer(lot, group.organiser), offer(lot, group.organiser)] as const
    expect(await application.attack(...twice)).toMatchObject({ state: '23505' })
  })

  test('a lot that is withdrawn and comes back is looked at again', async () => {
    const lot = await makeOffering(database.db, group, swapId)
    await setProtection(lot, 'in_force', null)
    expect(
      await application.attack(
        [`update offering set withdrawn_at = now() where id = $1`, [lot.offeringId]],
        [`update offering set withdrawn_at = null where id = $1`, [lot.offeringId]],
      ),
    ).toMatchObject({ state: 'TW016' })
  })

  test.each([
    [0, 1],
    [1, 0],
    [-1, 5],
  ])('%i shares of %i sticks', async (shares, sticks) => {
    const { offeringId } = await makeOffering(database.db, group, swapId)
    expect(
      await application.attack([
        `update offering set shares = $1, sticks_per_share = $2 where id = $3`,
        [shares, sticks, offeringId],
      ]),
    ).toMatchObject({ state: '23514' })
  })

  test.each(['null', 'now()'])(
    'shares that are said to be claimed although nobody claimed them (withdrawn: %s)',
    async (withdrawn) => {
      const lot = await makeLot(database.db, group)
      expect(
        await application.attack([
          `insert into offering (group_id, id, swap_id, lot_id, sticks_per_share, shares, shares_claimed, offered_by_id, offered_at, withdrawn_at)
            values ($1, $2, $3, $4, 1, 5, 3, $5, now(), ${withdrawn})`,
          [group.groupId, database.db.newId(), swapId, lot.lotId, group.organiser.memberId],
        ]),
      ).toMatchObject({ state: 'TW022' })
    },
  )
})

describe('what a swap can be', () => {
  test('claims open before they close', async () => {
    expect(
      await application.attack([`update swap set claims_close_at = claims_open_at where id = $1`, [swapId]]),
    ).toMatchObject({ constraint: 'swap_claims_open_before_they_close' })
  })

  test.each(['cap_per_member', 'cap_per_variety'])('%s allows something', async (cap) => {
    expect(await application.attack([`update swap set ${cap} = 0 where id = $1`, [swapId]])).toMatchObject({
      constraint: 'swap_caps_allow_something',
    })
  })
})

describe('what a claim can take', () => {
  let offering: TestOffering

  beforeAll(async () => {
    offering = await makeOffering(database.db, group, swapId, { shares: 3, sticksPerShare: 2 })
  })

  const claim = (shares: number, by: Actor = group.member, key = database.db.newId(), hash = 'hash') =>
    [
      `select * from claim_shares($1, $2, $3, $4, $5, $5, $6, null, now(), $7, $8)`,
      [
        group.groupId,
        database.db.newId(),
        database.db.newId(),
        offering.offeringId,
        by.memberId,
        shares,
        key,
        hash,
      ],
    ] as const
  const caps = (member: number, variety: number) =>
    [
      `update swap set cap_per_member = $1, cap_per_variety = $2 where id = $3`,
      [member, variety, swapId],
    ] as const

  test('not more shares than are left', async () => {
    expect(await application.attack(claim(4))).toMatchObject({ state: 'TW011' })
    expect(await application.attack(claim(2), claim(2, group.otherMember))).toMatchObject({ state: 'TW011' })
    expect(await application.attack(claim(2), claim(1, group.otherMember))).toMatchObject({
      state: 'accepted',
    })
  })

  test.each([0, -1])('not %i shares', async (shares) => {
    expect(await application.attack(claim(shares))).toMatchObject({ state: 'TW022' })
  })

  test('not past what a member may hold of the swap, or of the variety', async () => {
    expect(await application.attack(caps(1, 10), claim(2))).toMatchObject({ state: 'TW012' })
    expect(await application.attack(caps(10, 1), claim(2))).toMatchObject({ state: 'TW013' })
    expect(await application.attack(caps(2, 2), claim(2))).toMatchObject({ state: 'accepted' })
  })

  test('not twice while the first stands', async () => {
    expect(await application.attack(claim(1), claim(1))).toMatchObject({ state: 'TW021' })
  })

  test.each([
    ['planned', `status = 'planned'`],
    ['finished', `status = 'finished'`],
    ['not yet open', `claims_open_at = now() + interval '1 hour'`],
    ['closed a second ago', `claims_close_at = now() - interval '1 second'`],
    ['closed at this very moment', `claims_close_at = now()`],
  ])('not while the swap is %s', async (_what, change) => {
    const set = [`update swap set ${change} where id = $1`, [swapId]] as const
    expect(await application.attack(set, claim(1))).toMatchObject({ state: 'TW014' })
  })

  test('not from a lot that was withdrawn', async () => {
    const withdrawn = [
      `update offering set withdrawn_at = now() where id = $1`,
      [offering.offeringId],
    ] as const
    expect(await application.attack(withdrawn, claim(1))).toMatchObject({ state: 'TW019' })
  })

  test('not by somebody who left', async () => {
    const left = [`update member set left_on = now() where id = $1`, [group.member.memberId]] as const
    expect(await application.attack(left, claim(1))).toMatchObject({ state: 'TW019' })
  })

  test('not of wood that has lost its name since', async () => {
    const unnamed = [`update limb set variety_id = null where id = $1`, [offering.limbId]] as const
    expect(await application.attack(unnamed, claim(1))).toMatchObject({ state: 'TW024' })
  })

  test('not sticks that are no longer there', async () => {
    const lost = [
      `select move_sticks($1, $2, $3, 'lose', 'store', 'lost', 5, now(), $4, null, 'mould', null)`,
      [group.groupId, database.db.newId(), offering.lotId, group.member.memberId],
    ] as const
    expect(await application.attack(lost, claim(1))).toMatchObject({ state: 'TW010' })
  })

  test('a key counts once, and not for other entries', async () => {
    const key = database.db.newId()
    const count = `do $$ begin
      if (select shares_claimed from offering where id = '${offering.offeringId}') <> 1 then
        raise exception 'claimed twice';
      end if;
    end $$`
    const again = claim(1, group.member, key)
    expect(await application.attack(again, claim(1, group.member, key), count)).toMatchObject({
      state: 'accepted',
    })
    expect(await application.attack(again, claim(1, group.member, key, 'other'))).toMatchObject({
      state: 'TW018',
    })
    const otherCommand = [
      `select * from cancel_claim($1, $2, $3, $4, now(), null, $5, 'hash')`,
      [group.groupId, database.db.newId(), database.db.newId(), group.member.memberId, key],
    ] as const
    expect(await application.attack(again, otherCommand)).toMatchObject({ state: 'TW018' })
  })

  test('the counts hold against the owner as well', async () => {
    const raise = [
      `update offering set shares_claimed = shares + 1 where id = $1`,
      [offering.offeringId],
    ] as const
    expect(await owner.attack(raise)).toMatchObject({ constraint: 'offering_is_never_over_claimed' })
    const lower = [`update offering set shares_claimed = -1 where id = $1`, [offering.offeringId]] as const
    expect(await owner.attack(lower)).toMatchObject({ constraint: 'offering_is_never_over_claimed' })
    const fewer = [`update offering set shares = 1 where id = $1`, [offering.offeringId]] as const
    expect(await application.attack(claim(2), fewer)).toMatchObject({
      constraint: 'offering_is_never_over_claimed',
    })
    expect(await owner.attack(claim(1), [`update taking set shares = -1`])).toMatchObject({
      constraint: 'taking_is_never_negative',
    })
  })

  test.each([
    ['shares = 0', 'claim_is_for_something'],
    ['sticks = 0', 'claim_is_for_something'],
    [`status = 'cancelled'`, 'claim_is_settled_once'],
    ['settled_at = now()', 'claim_is_settled_once'],
  ])('a claim is not written as %s', async (change, constraint) => {
    const set = [`update claim set ${change} where offering_id = $1`, [offering.offeringId]] as const
    expect(await owner.attack(claim(1), set)).toMatchObject({ constraint })
  })

  test('a second standing claim of the same person and lot is not written either', async () => {
    const copy = [
      `insert into claim (group_id, id, swap_id, offering_id, lot_id, member_id, variety_id, shares, sticks, recorded_by_id, made_at)
        select group_id, $2, swap_id, offering_id, lot_id, member_id, variety_id, 1, 1, recorded_by_id, made_at
        from claim where offering_id = $1`,
      [offering.offeringId, database.db.newId()],
    ] as const
    expect(await owner.attack(claim(1), copy)).toMatchObject({
      constraint: 'claim_stands_once_per_member_and_offering',
    })
  })

  test('a claim is of the lot and the swap of its offering', async () => {
    const other = await makeOffering(database.db, group, swapId)
    const moved = [
      `update claim set lot_id = $2 where offering_id = $1`,
      [offering.offeringId, other.lotId],
    ] as const
    expect(await owner.attack(claim(1), moved)).toMatchObject({ state: '23503' })
  })
})
