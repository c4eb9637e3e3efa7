import { beforeAll, describe, expect, test } from 'vitest'
import { claimOffering } from '#lib/swaps/claim-offering.ts'
import { anyCode, makeGroup, type TestGroup } from '#tests/support/actors.ts'
import { testDatabase } from '#tests/support/database.ts'
import { makeOffering, makeSwap, placeTestHold, type TestOffering, valueIn } from '../swaps/swap-world.ts'
import { rawSqlAs, type Statement } from './two-roles.ts'

const database = testDatabase()
const { owner, application } = rawSqlAs(database)

describe.each(['lot', 'limb'] as const)('wood whose %s is on hold', (what) => {
  let group: TestGroup
  let held: TestOffering
  let swapId: string
  let claimId: string
  let holdId: string

  beforeAll(async () => {
    const { db } = database
    group = await makeGroup(db)
    swapId = await makeSwap(db, group)
    held = await makeOffering(db, group, swapId)
    const claim = { key: db.newId(), offeringId: held.offeringId, shares: 1 }
    const made = await claimOffering(db, group.member, { ...claim, memberId: undefined, purpose: undefined })
    claimId = valueIn(made).claimId
    holdId = await placeTestHold(db, group, what === 'lot' ? { lotId: held.lotId } : { limbId: held.limbId })
  })

  const released = () =>
    [
      `update health_hold set released_at = now(), released_by_id = placed_by_id, release_reason = 'clean'
        where id = $1`,
      [holdId],
    ] as const

  /** The same thing is refused while the hold is open and taken once it is released. */
  const onlyWithoutHold = async (...statements: readonly Statement[]) => {
    expect(await application.attack(...statements)).toMatchObject({ state: 'TW015' })
    expect(await owner.attack(...statements)).toMatchObject({ state: 'TW015' })
    expect(await application.attack(released(), ...statements)).toMatchObject({ state: 'accepted' })
  }

  test('is not offered', async () => {
    const { db } = database
    const other = await makeSwap(db, group)
    await onlyWithoutHold([
      `insert into offering (group_id, id, swap_id, lot_id, sticks_per_share, shares, offered_by_id, offered_at)
        values ($1, $2, $3, $4, 1, 1, $5, now())`,
      [group.groupId, db.newId(), other, held.lotId, group.organiser.memberId],
    ])
  })

  test('is not claimed', async () => {
    const { db } = database
    await onlyWithoutHold([
      `select * from claim_shares($1, $2, $3, $4, $5, $5, 1, null, now(), $6, 'hash')`,
      [group.groupId, db.newId(), db.newId(), held.offeringId, group.otherMember.memberId, db.newId()],
    ])
  })

  test('is not handed over', async () => {
    const { db } = database
    await onlyWithoutHold([
      `select * from hand_over_claim($1, $2, $3, $4, $5, 2, now(), $6, 'hash')`,
      [group.groupId, claimId, db.newId(), db.newId(), group.helper.memberId, db.newId()],
    ])
  })

  test.each([
    ['walk_up', 'unnamed'],
    ['post', 'parcel'],
  ])('does not leave by a %s', async (kind, to) => {
    const { db } = database
    await onlyWithoutHold([
      `select move_sticks($1, $2, $3, $4, 'store', $5, 1, now(), $6, null, null, null)`,
      [group.groupId, db.newId(), held.lotId, kind, to, group.helper.memberId],
    ])
  })

  test('still goes back to its store, and is destroyed', async () => {
    const { db } = database
    expect(
      await application.attack(
        [
          `select * from cancel_claim($1, $2, $3, $4, now(), 'on hold', $5, 'hash')`,
          [group.groupId, claimId, db.newId(), group.steward.memberId, db.newId()],
        ],
        [
          `select move_sticks($1, $2, $3, 'destroy', 'store', 'destroyed', 10, now(), $4, null, 'canker', null)`,
          [group.groupId, db.newId(), held.lotId, group.steward.memberId],
        ],
      ),
    ).toMatchObject({ state: 'accepted' })
  })

  test('gives no new lot, when it is the limb', async () => {
    const { db } = database
    const code = anyCode()
    const lot = [
      [`insert into issued_code (group_id, code, kind) values ($1, $2, 'lot')`, [group.groupId, code]],
      [
        `insert into lot (group_id, id, code, limb_id, session_id, cut_on, kind, diameter, bud_stage, packaging)
          select group_id, $2, $3, limb_id, session_id, cut_on, kind, diameter, bud_stage, packaging from lot where id = $1`,
        [held.lotId, db.newId(), code],
      ],
    ] as const
    if (what === 'limb') await onlyWithoutHold(...lot)
    else expect(await application.attack(...lot)).toMatchObject({ state: 'accepted' })
  })

  test('is held once, by one open hold', async () => {
    expect(
      await application.attack([
        `insert into health_hold (group_id, id, lot_id, limb_id, reason, placed_by_id, placed_at)
          select group_id, $2, lot_id, limb_id, 'again', placed_by_id, now() from health_hold where id = $1`,
        [holdId, database.db.newId()],
      ]),
    ).toMatchObject({ constraint: `hold_on_a_${what}_is_open_once` })
  })

  test('is released by somebody, with a reason', async () => {
    for (const half of [
      'released_at = now()',
      `released_at = now(), released_by_id = placed_by_id`,
      `released_at = now(), released_by_id = placed_by_id, release_reason = ' '`,
      `release_reason = 'clean'`,
    ]) {
      const attack = await application.attack([`update health_hold set ${half} where id = $1`, [holdId]])
      expect(attack.constraint, half).toBe('hold_release_says_who_when_why')
    }
  })
})

describe('a hold', () => {
  const place = async (columns: string, values: string) => {
    const { db } = database
    const group = await makeGroup(db)
    const { lotId, limbId } = await makeOffering(db, group, await makeSwap(db, group))
    return application.attack([
      `insert into health_hold (group_id, id, placed_by_id, placed_at, ${columns})
        select $1, $2, $3, now(), ${values} where $4::uuid is not null and $5::uuid is not null`,
      [group.groupId, db.newId(), group.steward.memberId, lotId, limbId],
    ])
  }

  test('is on a lot or on a limb, not on both and not on nothing', async () => {
    expect(await place('reason, lot_id, limb_id', `'x', $4::uuid, $5::uuid`)).toMatchObject({
      constraint: 'hold_is_on_one_thing',
    })
    expect(await place('reason', `'x'`)).toMatchObject({ constraint: 'hold_is_on_one_thing' })
  })

  test('has a reason', async () => {
    expect(await place('reason, lot_id', `' ', $4::uuid`)).toMatchObject({ constraint: 'hold_has_a_reason' })
  })
})
