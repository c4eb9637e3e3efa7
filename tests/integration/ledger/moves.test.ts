import { beforeAll, describe, expect, test } from 'vitest'
import { moveSticks, reverseMove, type StickMove } from '#lib/ledger/move-sticks.ts'
import { ledgerRefusalOf } from '#lib/ledger/refusals.ts'
import { verifyLedger } from '#lib/ledger/verify-ledger.ts'
import { claimOffering } from '#lib/swaps/claim-offering.ts'
import { makeGroup, makeLot, type TestGroup, type TestLot } from '#tests/support/actors.ts'
import { testDatabase } from '#tests/support/database.ts'
import { holdingsOf, makeOffering, makeSwap, valueIn } from '../swaps/swap-world.ts'
import { rawSqlAs } from './two-roles.ts'

const database = testDatabase()
const { owner, application } = rawSqlAs(database)

let group: TestGroup
let lot: TestLot

beforeAll(async () => {
  group = await makeGroup(database.db)
  lot = await makeLot(database.db, group, { sticks: 20 })
})

/** A move past the functions, as only the owner could write it. */
const rawMove = (move: {
  readonly kind: string
  readonly from: string
  readonly to: string
  readonly sticks?: number
  readonly reverses?: string | null
  readonly reason?: string | null
  readonly lotId?: string
}) =>
  [
    `insert into move (group_id, id, lot_id, kind, from_account, to_account, sticks, from_after, to_after,
        happened_at, recorded_by_id, reverses_id, reason)
      values ($1, $2, $3, $4, $5, $6, $7, 0, 0, now(), $8, $9, $10)`,
    [
      group.groupId,
      database.db.newId(),
      move.lotId ?? lot.lotId,
      move.kind,
      move.from,
      move.to,
      move.sticks ?? 1,
      group.member.memberId,
      move.reverses ?? null,
      move.reason ?? null,
    ],
  ] as const

const account = (name: string, memberId: string | null = null) =>
  [
    `insert into holding (group_id, lot_id, account, member_id) values ($1, $2, $3, $4) on conflict do nothing`,
    [group.groupId, lot.lotId, name, memberId],
  ] as const

const moved = (move: Partial<StickMove> = {}): Promise<string> => {
  const id = database.db.newId()
  return moveSticks(database.db.prisma, {
    groupId: group.groupId,
    id,
    lotId: lot.lotId,
    kind: 'lose',
    from: 'store',
    to: 'lost',
    sticks: 1,
    happenedAt: database.db.now(),
    recordedBy: group.member.memberId,
    ...move,
  }).then(() => id)
}

const refusalOf = async (work: Promise<unknown>) => {
  try {
    await work
    return 'accepted'
  } catch (error) {
    return ledgerRefusalOf(error) ?? error
  }
}

describe('what a holding can be', () => {
  test.each(['store', 'promised', 'unnamed', 'parcel', 'used', 'destroyed', 'lost'])(
    'never below nothing on %s',
    async (name) => {
      expect(
        await owner.attack(account(name), [`update holding set sticks = -1 where account = $1`, [name]]),
      ).toMatchObject({ state: '23514', constraint: 'holding_is_never_negative' })
    },
  )

  test('with a member never below nothing', async () => {
    const { memberId } = group.member
    expect(
      await owner.attack(account(`member:${memberId}`, memberId), [
        'update holding set sticks = -1 where member_id = $1',
        [memberId],
      ]),
    ).toMatchObject({ constraint: 'holding_is_never_negative' })
  })

  test('the source never above nothing', async () => {
    expect(await owner.attack([`update holding set sticks = 1 where account = 'cut'`])).toMatchObject({
      constraint: 'holding_is_never_negative',
    })
  })

  test.each(['pocket', '', 'STORE', 'member:', 'member:nobody'])('no account called "%s"', async (name) => {
    expect(await owner.attack(account(name))).toMatchObject({ constraint: 'holding_account_is_known' })
  })

  test('the account of a member is that member’s', async () => {
    const { member, otherMember } = group
    expect(await owner.attack(account(`member:${member.memberId}`, otherMember.memberId))).toMatchObject({
      constraint: 'holding_account_is_known',
    })
    expect(await owner.attack(account(`member:${member.memberId}`))).toMatchObject({
      constraint: 'holding_account_is_known',
    })
    expect(await owner.attack(account('store', member.memberId))).toMatchObject({
      constraint: 'holding_account_is_known',
    })
  })

  test('a holding with moves is not deleted', async () => {
    expect(await owner.attack([`delete from holding where account = 'store'`])).toMatchObject({
      // A restricted delete, as PostgreSQL 18 calls it, or as all before it did.
      state: expect.stringMatching(/^(23001|23503)$/),
    })
  })

  test('a holding changed past the functions shows up as a fault', async () => {
    const faults = `do $$ begin
      if not exists (select from ledger_fault where fault = 'holding differs from its moves') then
        raise exception 'no fault';
      end if;
    end $$`
    expect(
      await owner.attack([`update holding set sticks = sticks + 1 where account = 'store'`], [faults]),
    ).toMatchObject({ state: 'accepted' })
    expect(await owner.attack([faults])).toMatchObject({ state: 'P0001' })
  })
})

describe('what a move can be', () => {
  test.each([
    ['cut', 'store', 'cut'],
    ['cut', 'cut', 'lost'],
    ['promise', 'store', 'lost'],
    ['release', 'store', 'promised'],
    ['hand_over', 'store', 'unnamed'],
    ['walk_up', 'promised', 'unnamed'],
    ['walk_up', 'store', 'lost'],
    ['post', 'promised', 'parcel'],
    ['arrive', 'parcel', 'store'],
    ['use', 'promised', 'used'],
    ['use', 'store', 'destroyed'],
    ['destroy', 'unnamed', 'destroyed'],
    ['destroy', 'store', 'used'],
    ['lose', 'promised', 'lost'],
    ['lose', 'store', 'destroyed'],
    ['bring_back', 'used', 'store'],
    ['bring_back', 'destroyed', 'store'],
  ])('a %s does not go from %s to %s', async (kind, from, to) => {
    expect(await owner.attack(account(from), account(to), rawMove({ kind, from, to }))).toMatchObject({
      state: '23514',
    })
  })

  test('its kind and its accounts are checked in the functions as well', async () => {
    const wrong = moved({ kind: 'bring_back', from: 'store', to: 'used' })
    await expect(wrong).rejects.toMatchObject({
      message: expect.stringContaining('move_kind_fits_its_accounts'),
    })
  })

  test.each([0, -3])('it carries at least one stick, not %i', async (sticks) => {
    const { memberId } = group.member
    expect(
      await application.attack([
        `select move_sticks($1, $2, $3, 'lose', 'store', 'lost', $4, now(), $5, null, null, null)`,
        [group.groupId, database.db.newId(), lot.lotId, sticks, memberId],
      ]),
    ).toMatchObject({ state: '23514' })
    const raw = rawMove({ kind: 'lose', from: 'store', to: 'lost', sticks })
    expect(await owner.attack(account('lost'), raw)).toMatchObject({
      constraint: 'move_carries_at_least_one_stick',
    })
  })

  test('it goes somewhere else', async () => {
    expect(
      await application.attack([
        `select move_sticks($1, $2, $3, 'bring_back', 'lost', 'lost', 0, now(), $4, null, null, null)`,
        [group.groupId, database.db.newId(), lot.lotId, group.member.memberId],
      ]),
    ).toMatchObject({ state: '23514' })
    const { memberId } = group.member
    const raw = rawMove({ kind: 'reversal', from: 'store', to: 'store', reverses: memberId, reason: 'x' })
    expect(await owner.attack(raw)).toMatchObject({ constraint: 'move_goes_somewhere' })
  })

  test('no more sticks go than are there', async () => {
    expect(await refusalOf(moved({ sticks: 1000 }))).toMatchObject({
      kind: 'not-enough-sticks',
      account: 'store',
      left: expect.any(Number),
    })
  })

  test.each(['promise', 'release', 'hand_over', 'reversal'])(
    'a %s goes through its own function',
    async (kind) => {
      const values = [group.groupId, database.db.newId(), lot.lotId, kind, group.member.memberId]
      expect(
        await application.attack([
          `select move_sticks($1, $2, $3, $4, 'store', 'promised', 1, now(), $5, null, null, null)`,
          values,
        ]),
      ).toMatchObject({ state: 'TW022' })
    },
  )

  test('a move of a claim names the claim', async () => {
    expect(
      await owner.attack(account('promised'), rawMove({ kind: 'promise', from: 'store', to: 'promised' })),
    ).toMatchObject({ constraint: 'move_of_a_claim_names_it' })
  })
})

describe('a wrong move is corrected by its mirror image', () => {
  const reversed = (moveId: string, reason = 'counted twice') =>
    reverseMove(database.db.prisma, {
      groupId: group.groupId,
      id: database.db.newId(),
      moveId,
      recordedBy: group.steward.memberId,
      happenedAt: database.db.now(),
      reason,
    })

  test('and then the sticks are back', async () => {
    const before = await holdingsOf(database.db, lot.lotId)
    await reversed(await moved({ sticks: 3 }))
    expect(await holdingsOf(database.db, lot.lotId)).toEqual(before)
    expect(await verifyLedger(database.db, group.groupId)).toEqual([])
  })

  test('once', async () => {
    const moveId = await moved({ sticks: 2 })
    // A second loss, so that it is not for want of sticks.
    await moved({ sticks: 2 })
    await reversed(moveId)
    expect(await refusalOf(reversed(moveId))).toEqual({ kind: 'already-reversed' })
  })

  test('with a reason', async () => {
    const moveId = await moved()
    await expect(reversed(moveId, '  ')).rejects.toMatchObject({
      message: expect.stringContaining('move_reversal_has_a_reason'),
    })
  })

  test('not a correction of a correction', async () => {
    const moveId = await moved()
    await reversed(moveId)
    const [reversal] = await owner.query<{ id: string }>('select id from move where reverses_id = $1', [
      moveId,
    ])
    expect(await refusalOf(reversed(reversal?.id ?? ''))).toEqual({ kind: 'wrong-state' })
  })

  test('not one of another group', async () => {
    const other = await makeGroup(database.db)
    const moveId = await moved()
    const stranger = reverseMove(database.db.prisma, {
      groupId: other.groupId,
      id: database.db.newId(),
      moveId,
      recordedBy: other.steward.memberId,
      happenedAt: database.db.now(),
      reason: 'mine',
    })
    expect(await refusalOf(stranger)).toEqual({ kind: 'not-found' })
  })

  test('not a move of a claim: that is undone through the claim', async () => {
    const { db } = database
    const { offeringId } = await makeOffering(db, group, await makeSwap(db, group))
    const { claimId } = valueIn(
      await claimOffering(db, group.member, {
        key: db.newId(),
        offeringId,
        memberId: undefined,
        shares: 1,
        purpose: undefined,
      }),
    )
    const [promise] = await owner.query<{ id: string }>('select id from move where claim_id = $1', [claimId])
    expect(await refusalOf(reversed(promise?.id ?? ''))).toEqual({ kind: 'wrong-state' })
  })

  test('exactly: same lot, accounts turned round, as many sticks', async () => {
    const { db } = database
    const other = await makeLot(db, group)
    await moved({ lotId: other.lotId })
    const reverses = await moved({ sticks: 2 })
    const right = { kind: 'reversal', from: 'lost', to: 'store', sticks: 2, reverses, reason: 'wrong bag' }
    expect(await owner.attack(rawMove(right))).toMatchObject({ state: 'accepted' })
    for (const wrong of [
      { ...right, sticks: 1 },
      { ...right, from: 'store', to: 'lost' },
      { ...right, lotId: other.lotId },
      { ...right, to: 'cut' },
    ]) {
      expect((await owner.attack(rawMove(wrong))).state, JSON.stringify(wrong)).toBe('23503')
    }
    expect(await owner.attack(rawMove({ ...right, reason: ' ' }))).toMatchObject({
      constraint: 'move_reversal_has_a_reason',
    })
    expect(await owner.attack(rawMove({ ...right, reverses: null }))).toMatchObject({
      constraint: 'move_reversal_names_what_it_corrects',
    })
    expect(
      await owner.attack(rawMove({ kind: 'lose', from: 'store', to: 'lost', reverses, sticks: 2 })),
    ).toMatchObject({ constraint: 'move_reversal_names_what_it_corrects' })
  })
})

describe('a move belongs to what it names', () => {
  test('an attempt with wood of this lot, not of another', async () => {
    const { db } = database
    const other = await makeLot(db, group)
    const attemptId = db.newId()
    await db.prisma.attempt.create({
      data: {
        groupId: group.groupId,
        id: attemptId,
        lotId: other.lotId,
        varietyId: other.varietyId,
        growerId: group.member.memberId,
        recordedById: group.member.memberId,
        method: 'cleft',
        madeOn: db.now(),
        pieces: 1,
        sticksUsed: 1,
      },
    })
    const use = { kind: 'use', to: 'used', attemptId } as const
    await expect(moved(use)).rejects.toThrow()
    await moved({ ...use, lotId: other.lotId })
    expect(await verifyLedger(db, group.groupId)).toEqual([])
  })
})
