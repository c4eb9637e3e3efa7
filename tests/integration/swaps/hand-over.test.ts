import { beforeAll, describe, expect, test } from 'vitest'
import { moveSticks } from '#lib/ledger/move-sticks.ts'
import { verifyLedger } from '#lib/ledger/verify-ledger.ts'
import { claimOffering } from '#lib/swaps/claim-offering.ts'
import { pickList, walkUpsOf } from '#lib/swaps/door-lists.ts'
import { finishSwap } from '#lib/swaps/finish-swap.ts'
import { handOver } from '#lib/swaps/hand-over.ts'
import { ClaimOfferingInput, HandOverInput, RecordWalkUpInput, UndoHandOverInput } from '#lib/swaps/input.ts'
import { handOverFor, handOverList } from '#lib/swaps/queries.ts'
import { recordWalkUp } from '#lib/swaps/record-walk-up.ts'
import { undoHandOver } from '#lib/swaps/undo-hand-over.ts'
import { undoWalkUp } from '#lib/swaps/undo-walk-up.ts'
import { makeGroup, type TestGroup } from '#tests/support/actors.ts'
import { testDatabase } from '#tests/support/database.ts'
import { holdingsOf, kindOf, makeOffering, makeSwap, placeTestHold, valueIn } from './swap-world.ts'

const database = testDatabase()
let group: TestGroup
let others: TestGroup
let swapId: string

beforeAll(async () => {
  group = await makeGroup(database.db)
  others = await makeGroup(database.db)
  swapId = await makeSwap(database.db, group, { capPerMember: 100 })
})

/** Two shares of two sticks promised to Mabel Member. */
const promised = async (swap = swapId) => {
  const { db } = database
  const lot = await makeOffering(db, group, swap, { shares: 5, sticksPerShare: 2 })
  const input = ClaimOfferingInput.parse({
    key: db.newId(),
    offeringId: lot.offeringId,
    shares: 2,
    purpose: 'the wall by the shed',
  })
  return { ...lot, ...valueIn(await claimOffering(db, group.member, input)) }
}

const handing = (claimId: string, sticks: number) =>
  HandOverInput.parse({ key: database.db.newId(), claimId, sticks: String(sticks) })
const undoing = (claimId: string, reason = 'wrong person') =>
  UndoHandOverInput.parse({ key: database.db.newId(), claimId, reason })
const withMabel = () => `member:${group.member.memberId}`

describe('handing over', () => {
  test('puts the promised sticks into the hands of their person', async () => {
    const { db } = database
    const { claimId, lotId } = await promised()
    expect(valueIn(await handOver(db, group.helper, handing(claimId, 4)))).toMatchObject({ sticks: 4 })
    expect(await holdingsOf(db, lotId)).toEqual({ cut: -10, store: 6, [withMabel()]: 4 })
    const move = await db.prisma.move.findFirstOrThrow({ where: { claimId, kind: 'hand_over' } })
    expect(move).toMatchObject({
      recordedById: group.helper.memberId,
      onBehalfOfId: group.member.memberId,
    })
    expect(await verifyLedger(db, group.groupId)).toEqual([])
  })

  test('of fewer puts the rest back into the store', async () => {
    const { db } = database
    const { claimId, lotId } = await promised()
    expect(valueIn(await handOver(db, group.helper, handing(claimId, 1)))).toMatchObject({ sticks: 1 })
    expect(await holdingsOf(db, lotId)).toEqual({ cut: -10, store: 9, [withMabel()]: 1 })
    expect(await verifyLedger(db, group.groupId)).toEqual([])
  })

  test('of more than was promised is refused with the number', async () => {
    const { db } = database
    const { claimId } = await promised()
    expect(await handOver(db, group.helper, handing(claimId, 5))).toEqual({
      ok: false,
      refusal: { kind: 'not-enough-sticks', left: 4, account: 'promised' },
    })
  })

  test('happens once, however often the button is pressed', async () => {
    const { db } = database
    const { claimId, lotId } = await promised()
    const input = handing(claimId, 4)
    const answers = await Promise.all([1, 2, 3].map(() => handOver(db, group.helper, input)))
    expect(answers.map((answer) => valueIn(answer).sticks)).toEqual([4, 4, 4])
    expect(answers.filter((answer) => !valueIn(answer).replayed)).toHaveLength(1)
    expect(await holdingsOf(db, lotId)).toMatchObject({ [withMabel()]: 4 })
    // Another helper, with the page still open.
    expect(kindOf(await handOver(db, group.steward, handing(claimId, 4)))).toBe('wrong-state')
  })

  test('is for helpers, stewards and organisers of the own group', async () => {
    const { db } = database
    const { claimId } = await promised()
    expect(kindOf(await handOver(db, group.member, handing(claimId, 4)))).toBe('not-allowed')
    expect(kindOf(await handOver(db, others.helper, handing(claimId, 4)))).toBe('not-found')
    expect(kindOf(await handOver(db, group.steward, handing(claimId, 4)))).toBe('accepted')
  })

  test('waits while the wood is on hold', async () => {
    const { db } = database
    const { claimId, lotId } = await promised()
    await placeTestHold(db, group, { lotId })
    expect(kindOf(await handOver(db, group.helper, handing(claimId, 4)))).toBe('held')
  })
})

describe('taking a hand-over back', () => {
  test('promises the sticks again, as if nothing had been', async () => {
    const { db } = database
    const { claimId, lotId } = await promised()
    const before = await holdingsOf(db, lotId)
    valueIn(await handOver(db, group.helper, handing(claimId, 4)))
    valueIn(await undoHandOver(db, group.helper, undoing(claimId)))
    expect(await holdingsOf(db, lotId)).toEqual(before)
    expect(kindOf(await handOver(db, group.helper, handing(claimId, 4)))).toBe('accepted')
    expect(kindOf(await undoHandOver(db, group.helper, undoing(claimId)))).toBe('accepted')
    expect(await verifyLedger(db, group.groupId)).toEqual([])
  })

  test('of fewer promises those again', async () => {
    const { db } = database
    const { claimId, lotId } = await promised()
    valueIn(await handOver(db, group.helper, handing(claimId, 3)))
    valueIn(await undoHandOver(db, group.helper, undoing(claimId)))
    expect(await holdingsOf(db, lotId)).toEqual({ cut: -10, store: 7, promised: 3 })
    expect(await verifyLedger(db, group.groupId)).toEqual([])
  })

  test('happens once and needs a reason', async () => {
    const { db } = database
    const { claimId } = await promised()
    valueIn(await handOver(db, group.helper, handing(claimId, 4)))
    const input = undoing(claimId)
    const first = valueIn(await undoHandOver(db, group.helper, input))
    expect(valueIn(await undoHandOver(db, group.helper, input))).toEqual({ ...first, replayed: true })
    expect(kindOf(await undoHandOver(db, group.helper, undoing(claimId)))).toBe('wrong-state')
    expect(() => undoing(claimId, ' ')).toThrow('Say why this is taken back')
  })

  test('is refused when the sticks are no longer with the person', async () => {
    const { db } = database
    const { claimId, lotId } = await promised()
    valueIn(await handOver(db, group.helper, handing(claimId, 4)))
    await moveSticks(db.prisma, {
      groupId: group.groupId,
      id: db.newId(),
      lotId,
      kind: 'lose',
      from: `member:${group.member.memberId}`,
      to: 'lost',
      sticks: 1,
      happenedAt: db.now(),
      recordedBy: group.member.memberId,
      reason: 'dog',
    })
    expect(await undoHandOver(db, group.helper, undoing(claimId))).toMatchObject({
      refusal: { kind: 'not-enough-sticks', left: 3 },
    })
  })

  test('is not for members, another group, or a swap that is over', async () => {
    const { db } = database
    const over = await makeSwap(db, group)
    const { claimId } = await promised(over)
    valueIn(await handOver(db, group.helper, handing(claimId, 4)))
    expect(kindOf(await undoHandOver(db, group.member, undoing(claimId)))).toBe('not-allowed')
    expect(kindOf(await undoHandOver(db, others.helper, undoing(claimId)))).toBe('not-found')
    valueIn(await finishSwap(db, group.organiser, { swapId: over, giveBackRest: true }))
    expect(kindOf(await undoHandOver(db, group.helper, undoing(claimId)))).toBe('swap-finished')
  })
})

describe('sticks taken from the table without a claim', () => {
  const walkingUp = (from: { readonly offeringId?: string; readonly lotId?: string }, sticks = 2) =>
    RecordWalkUpInput.parse({ key: database.db.newId(), offeringId: '', lotId: '', ...from, sticks })

  test('are counted without a name, and are gone from the catalogue', async () => {
    const { db } = database
    const lot = await makeOffering(db, group, swapId, { shares: 5, sticksPerShare: 2 })
    expect(valueIn(await recordWalkUp(db, group.helper, walkingUp(lot, 3)))).toMatchObject({
      code: lot.code,
      left: 7,
    })
    expect(await holdingsOf(db, lot.lotId)).toEqual({ cut: -10, store: 7, unnamed: 3 })
    expect(await verifyLedger(db, group.groupId)).toEqual([])
  })

  test('never are sticks that are promised to somebody', async () => {
    const { db } = database
    const { offeringId } = await promised()
    expect(await recordWalkUp(db, group.helper, walkingUp({ offeringId }, 7))).toEqual({
      ok: false,
      refusal: { kind: 'not-enough-sticks', left: 6, account: 'store' },
    })
  })

  test('are recorded once, by the people at the door', async () => {
    const { db } = database
    const { lotId } = await makeOffering(db, group, swapId)
    const input = walkingUp({ lotId })
    expect(kindOf(await recordWalkUp(db, group.member, input))).toBe('not-allowed')
    expect(kindOf(await recordWalkUp(db, others.helper, input))).toBe('not-found')
    const first = valueIn(await recordWalkUp(db, group.helper, input))
    expect(valueIn(await recordWalkUp(db, group.helper, input))).toEqual(first)
    expect(await holdingsOf(db, lotId)).toMatchObject({ unnamed: 2 })
    expect(() => walkingUp({})).toThrow('Choose the lot they came from')
  })

  test('are not given from wood on hold', async () => {
    const { db } = database
    const lot = await makeOffering(db, group, swapId)
    await placeTestHold(db, group, { limbId: lot.limbId })
    expect(kindOf(await recordWalkUp(db, group.helper, walkingUp(lot)))).toBe('held')
  })

  test('can be taken back, once, and the entry stays', async () => {
    const { db } = database
    const own = await makeSwap(db, group)
    const { offeringId, lotId, code } = await makeOffering(db, group, own)
    const { moveId } = valueIn(await recordWalkUp(db, group.helper, walkingUp({ offeringId })))
    const undo = () => ({ key: db.newId(), moveId, reason: 'wrong bag' })
    expect(kindOf(await undoWalkUp(db, group.member, undo()))).toBe('not-allowed')
    expect(kindOf(await undoWalkUp(db, others.helper, undo()))).toBe('not-found')
    const input = undo()
    const first = valueIn(await undoWalkUp(db, group.helper, input))
    expect(valueIn(await undoWalkUp(db, group.helper, input))).toEqual(first)
    expect(kindOf(await undoWalkUp(db, group.helper, undo()))).toBe('already-reversed')
    expect(await holdingsOf(db, lotId)).toEqual({ cut: -10, store: 10 })
    expect(await walkUpsOf(db, group.helper, own)).toMatchObject([
      { moveId, code, sticks: 2, isUndone: true },
    ])
    expect(await walkUpsOf(db, group.member, own)).toBeNull()
    expect(await walkUpsOf(db, others.helper, own)).toEqual([])
  })

  test('are not undone by the key of another move', async () => {
    const { db } = database
    const { claimId } = await promised()
    const move = await db.prisma.move.findFirstOrThrow({ where: { claimId } })
    const undo = { key: db.newId(), moveId: move.id, reason: 'wrong bag' }
    expect(kindOf(await undoWalkUp(db, group.helper, undo))).toBe('not-found')
  })
})

describe('the lists at the door', () => {
  test('count what each person has coming and has had', async () => {
    const { db } = database
    const own = await makeSwap(db, group)
    const first = await promised(own)
    await promised(own)
    valueIn(await handOver(db, group.helper, handing(first.claimId, 3)))
    const list = await handOverList(db, group.helper, own)
    expect(list?.people).toEqual([
      {
        memberId: group.member.memberId,
        name: 'Mabel Member',
        claimsPromised: 1,
        sticksPromised: 4,
        claimsHandedOver: 1,
        sticksHandedOver: 3,
      },
    ])
    expect((await handOverList(db, group.helper, own, { search: 'mäbel' }))?.people).toHaveLength(1)
    expect((await handOverList(db, group.helper, own, { search: 'otto' }))?.people).toHaveLength(0)
    expect((await pickList(db, group.helper, own))?.claims.map(({ sticks }) => sticks)).toEqual([3, 4])
  })

  test('are for those who hand over, within the group', async () => {
    const { db } = database
    const own = await makeSwap(db, group)
    await promised(own)
    const { memberId } = group.member
    expect(await handOverList(db, group.member, own)).toBeNull()
    expect(await pickList(db, group.member, own)).toBeNull()
    expect(await handOverFor(db, group.member, own, memberId)).toBeNull()
    expect(await handOverList(db, others.helper, own)).toBeNull()
    expect(await pickList(db, others.helper, own)).toBeNull()
    expect(await handOverFor(db, others.helper, own, memberId)).toBeNull()
    expect(await handOverFor(db, group.helper, own, others.member.memberId)).toBeNull()
    expect(await handOverFor(db, group.helper, own, memberId)).toMatchObject({
      member: { id: memberId, name: 'Mabel Member' },
      claims: [{ purpose: 'the wall by the shed', memberName: 'Mabel Member' }],
    })
  })
})
