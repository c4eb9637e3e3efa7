import { randomUUID } from 'node:crypto'
import { beforeAll, beforeEach, describe, expect, test } from 'vitest'
import type { Actor } from '#lib/access/actor.ts'
import { civilDate } from '#lib/kernel/civil-date.ts'
import { moveSticks } from '#lib/ledger/move-sticks.ts'
import { verifyLedger } from '#lib/ledger/verify-ledger.ts'
import { addStore } from '#lib/wood/add-store.ts'
import { correctMove } from '#lib/wood/correct-move.ts'
import { moveLot } from '#lib/wood/move-lot.ts'
import { getLot } from '#lib/wood/queries.ts'
import { recordLoss } from '#lib/wood/record-loss.ts'
import { makeGroup, makeLot, type TestGroup, type TestLot } from '#tests/support/actors.ts'
import { testDatabase } from '#tests/support/database.ts'

const database = testDatabase({ now: () => new Date('2027-02-04T09:00:00Z') })

let group: TestGroup
let cellarId: string
let wood: TestLot

beforeAll(async () => {
  group = await makeGroup(database.db)
  const cellar = await addStore(database.db, group.helper, {
    key: randomUUID(),
    name: 'Cellar',
    kind: 'cellar',
    keeperId: group.otherMember.memberId,
  })
  if (!cellar.ok) throw new Error(cellar.refusal.kind)
  cellarId = cellar.value.storeId
})

beforeEach(async () => {
  wood = await makeLot(database.db, group, { cutOn: '2027-01-11' })
})

const lotNow = async (actor: Actor = group.member) => {
  const view = await getLot(database.db, actor, wood.code)
  if (!view) throw new Error('The lot is missing')
  return view
}

const move = (onDay: string, storeId = cellarId, actor = group.member, key: string = randomUUID()) =>
  moveLot(database.db, actor, { key, lotId: wood.lotId, storeId, onDay: civilDate(onDay) })

describe('moving a lot to another store', () => {
  test('ends one stay at noon and begins the next in the same instant', async () => {
    expect((await move('2027-01-30')).ok).toBe(true)
    const { stays } = await lotNow()
    expect(stays.map((stay) => [stay.from, stay.to, stay.storeName === 'Cellar'])).toEqual([
      ['2027-01-11', '2027-01-30', false],
      ['2027-01-30', null, true],
    ])
  })

  test('twice on one day leaves it where it went last', async () => {
    const third = await addStore(database.db, group.helper, {
      key: randomUUID(),
      name: `Shed ${wood.code}`,
      kind: 'shed',
    })
    if (!third.ok) throw new Error(third.refusal.kind)
    await move('2027-01-30')
    expect((await move('2027-01-30', third.value.storeId)).ok).toBe(true)
    const { stays } = await lotNow()
    expect(stays.map((stay) => stay.storeName)).toEqual([
      expect.stringContaining('Fridge'),
      `Shed ${wood.code}`,
    ])
  })

  test('changes the window', async () => {
    const before = await lotNow()
    await move('2027-01-12')
    const after = await lotNow()
    if (before.window.kind === 'none' || after.window.kind === 'none') throw new Error('No window')
    expect(after.window.early < before.window.early).toBe(true)
  })

  test('is refused for a day to come, and for one before it came', async () => {
    expect(await move('2027-02-05')).toMatchObject({ refusal: { kind: 'day-to-come', today: '2027-02-04' } })
    expect(await move('2027-01-10')).toMatchObject({
      refusal: { kind: 'before-it-came', cameOn: '2027-01-11' },
    })
  })

  test('is refused to where it is, to a closed store and to one of another group', async () => {
    expect(await move('2027-01-30', wood.storeId)).toMatchObject({ refusal: { kind: 'already-there' } })
    const closed = await makeLot(database.db, group)
    await database.db.prisma.store.update({
      where: { groupId_id: { groupId: group.groupId, id: closed.storeId } },
      data: { closedOn: new Date('2027-01-01T00:00:00Z') },
    })
    expect(await move('2027-01-30', closed.storeId)).toMatchObject({ refusal: { kind: 'store-closed' } })
    const theirs = await makeLot(database.db, await makeGroup(database.db))
    expect(await move('2027-01-30', theirs.storeId)).toMatchObject({ refusal: { kind: 'not-found' } })
  })

  test('is for whoever cut it, whoever keeps it now, and helpers', async () => {
    expect(await move('2027-01-30', cellarId, group.otherMember)).toMatchObject({
      refusal: { kind: 'not-your-wood' },
    })
    expect((await move('2027-01-30', cellarId, group.helper)).ok).toBe(true)
    // Otto keeps the cellar, so now he may.
    expect((await move('2027-02-01', wood.storeId, group.otherMember)).ok).toBe(true)
  })

  test('of another group’s lot finds nothing', async () => {
    const other = await makeGroup(database.db)
    expect(await move('2027-01-30', cellarId, other.organiser)).toMatchObject({
      refusal: { kind: 'not-found' },
    })
  })

  test('counts once when it is sent twice', async () => {
    const key = randomUUID()
    const first = await move('2027-01-30', cellarId, group.member, key)
    expect(await move('2027-01-30', cellarId, group.member, key)).toEqual(first)
    expect((await lotNow()).stays).toHaveLength(2)
  })

  test('sent by two people at once never makes stays that overlap', async () => {
    const shed = await addStore(database.db, group.helper, {
      key: randomUUID(),
      name: `Loft ${wood.code}`,
      kind: 'indoors',
    })
    if (!shed.ok) throw new Error(shed.refusal.kind)
    const both = await Promise.all([move('2027-01-30'), move('2027-01-20', shed.value.storeId, group.helper)])
    expect(both.some((result) => result.ok)).toBe(true)
    const { stays } = await lotNow()
    expect(stays.filter((stay) => stay.to === null)).toHaveLength(1)
  })
})

const lose = (sticks: number, more: { fate?: 'destroyed' | 'lost'; actor?: Actor; key?: string } = {}) =>
  recordLoss(database.db, more.actor ?? group.member, {
    key: more.key ?? randomUUID(),
    lotId: wood.lotId,
    sticks,
    fate: more.fate ?? 'destroyed',
    reason: 'mould under the bark',
  })

describe('writing sticks off', () => {
  test('takes them from what is free, with the reason', async () => {
    expect(await lose(3)).toMatchObject({ ok: true, value: { left: 17 } })
    await lose(2, { fate: 'lost' })
    const { sums, moves } = await lotNow()
    expect(sums).toMatchObject({ cut: 20, free: 15, destroyed: 3, lost: 2 })
    expect(moves[1]).toMatchObject({ kind: 'destroy', reason: 'mould under the bark', freeAfter: 17 })
    expect(await verifyLedger(database.db, group.groupId)).toEqual([])
  })

  test('refuses more than are free', async () => {
    expect(await lose(21)).toMatchObject({ refusal: { kind: 'not-enough-sticks', left: 20 } })
  })

  test('is for whoever cut it and for helpers, in this group', async () => {
    expect(await lose(1, { actor: group.otherMember })).toMatchObject({ refusal: { kind: 'not-your-wood' } })
    expect((await lose(1, { actor: group.helper })).ok).toBe(true)
    const other = await makeGroup(database.db)
    expect(await lose(1, { actor: other.organiser })).toMatchObject({ refusal: { kind: 'not-found' } })
  })

  test('counts once when it is sent twice', async () => {
    const key = randomUUID()
    await lose(4, { key })
    await lose(4, { key })
    expect((await lotNow()).sums).toMatchObject({ free: 16, destroyed: 4 })
  })
})

const correct = async (place: number, more: { sticks?: number; actor?: Actor; key?: string } = {}) => {
  const moveId = (await lotNow()).moves[place]?.moveId ?? randomUUID()
  return correctMove(database.db, more.actor ?? group.member, {
    key: more.key ?? randomUUID(),
    moveId,
    reason: 'counted again',
    ...(more.sticks === undefined ? {} : { sticks: more.sticks }),
  })
}

describe('correcting an entry', () => {
  test('adds its mirror image with the reason and keeps both', async () => {
    await lose(3)
    expect((await correct(1)).ok).toBe(true)
    const { moves, sums } = await lotNow()
    expect(moves.map((entry) => [entry.kind, entry.sticks, entry.freeAfter, entry.isReversed])).toEqual([
      ['cut', 20, 20, false],
      ['destroy', 3, 17, true],
      ['reversal', 3, 20, false],
    ])
    expect(moves[2]?.reason).toBe('counted again')
    expect(sums).toMatchObject({ free: 20, destroyed: 0 })
    expect(await verifyLedger(database.db, group.groupId)).toEqual([])
  })

  test('writes the entry again with the right number, also when the store is nearly empty', async () => {
    await lose(18)
    await correct(1, { sticks: 20 })
    expect((await lotNow()).sums).toMatchObject({ free: 0, destroyed: 20 })
  })

  test('puts the count of a cut right although some sticks have gone', async () => {
    await lose(15)
    expect((await correct(0, { sticks: 17 })).ok).toBe(true)
    expect((await lotNow()).sums).toMatchObject({ cut: 17, free: 2, destroyed: 15 })
    expect(await verifyLedger(database.db, group.groupId)).toEqual([])
  })

  test('refuses a count that is lower than what has gone', async () => {
    await lose(15)
    expect(await correct(0, { sticks: 14 })).toMatchObject({ refusal: { kind: 'not-enough-sticks' } })
  })

  test('happens once, and a correction is not corrected', async () => {
    await lose(3)
    await correct(1)
    expect(await correct(1)).toMatchObject({ refusal: { kind: 'already-reversed' } })
    expect(await correct(2)).toMatchObject({ refusal: { kind: 'is-a-correction' } })
  })

  test('of what somebody grafted is made at the graft', async () => {
    const attemptId = randomUUID()
    await database.db.prisma.attempt.create({
      data: {
        groupId: group.groupId,
        id: attemptId,
        lotId: wood.lotId,
        varietyId: wood.varietyId,
        growerId: group.member.memberId,
        recordedById: group.member.memberId,
        method: 'whip_and_tongue',
        madeOn: new Date('2027-02-01T00:00:00Z'),
        pieces: 4,
        sticksUsed: 2,
      },
    })
    await moveSticks(database.db.prisma, {
      groupId: group.groupId,
      id: randomUUID(),
      lotId: wood.lotId,
      kind: 'use',
      from: 'store',
      to: 'used',
      sticks: 2,
      happenedAt: new Date('2027-02-01T12:00:00Z'),
      recordedBy: group.member.memberId,
      attemptId,
    })
    expect(await correct(1)).toMatchObject({ refusal: { kind: 'corrected-elsewhere', where: 'attempt' } })
  })

  test('is for whoever recorded it and for helpers', async () => {
    await lose(3)
    expect(await correct(1, { actor: group.otherMember })).toMatchObject({
      refusal: { kind: 'not-your-wood' },
    })
    const views = await Promise.all(
      [group.member, group.otherMember, group.helper].map((actor) => lotNow(actor)),
    )
    expect(views.map((view) => view.moves[1]?.canBeCorrected)).toEqual([true, false, true])
    expect((await correct(1, { actor: group.helper })).ok).toBe(true)
  })

  test('of another group’s entry finds nothing', async () => {
    const other = await makeGroup(database.db)
    expect(await correct(0, { actor: other.organiser })).toMatchObject({ refusal: { kind: 'not-found' } })
  })

  test('counts once when it is sent twice', async () => {
    await lose(3)
    const key = randomUUID()
    const first = await correct(1, { key })
    expect(await correct(1, { key })).toEqual(first)
    expect((await lotNow()).moves).toHaveLength(3)
  })
})
