import { randomUUID } from 'node:crypto'
import { beforeAll, beforeEach, describe, expect, test } from 'vitest'
import type { Actor } from '#lib/access/actor.ts'
import { placeHold } from '#lib/health/place-hold.ts'
import { getHold, listHolds } from '#lib/health/queries.ts'
import { releaseHold } from '#lib/health/release-hold.ts'
import { civilDate } from '#lib/kernel/civil-date.ts'
import { moveSticks } from '#lib/ledger/move-sticks.ts'
import { logCuttingSession } from '#lib/wood/log-cutting-session.ts'
import { getLot } from '#lib/wood/queries.ts'
import { recordLoss } from '#lib/wood/record-loss.ts'
import { makeGroup, makeLot, type TestGroup, type TestLot } from '#tests/support/actors.ts'
import { testDatabase } from '#tests/support/database.ts'

const database = testDatabase({ now: () => new Date('2027-02-04T09:00:00Z') })

let group: TestGroup
let wood: TestLot

beforeAll(async () => {
  group = await makeGroup(database.db)
})

beforeEach(async () => {
  wood = await makeLot(database.db, group, { cutOn: '2027-01-11' })
})

const place = (
  on: { lotId?: string; limbId?: string },
  actor: Actor = group.steward,
  key: string = randomUUID(),
) => placeHold(database.db, actor, { key, ...on, reason: 'black tips' })

const placed = async (on: { lotId?: string; limbId?: string }) => {
  const result = await place(on)
  if (!result.ok) throw new Error(result.refusal.kind)
  return result.value.holdId
}

const release = (holdId: string, actor: Actor = group.steward) =>
  releaseHold(database.db, actor, { holdId, reason: 'the authority looked: frost' })

const walkUp = () =>
  moveSticks(database.db.prisma, {
    groupId: group.groupId,
    id: randomUUID(),
    lotId: wood.lotId,
    kind: 'walk_up',
    from: 'store',
    to: 'unnamed',
    sticks: 1,
    happenedAt: new Date('2027-02-04T09:00:00Z'),
    recordedBy: group.helper.memberId,
  })

describe('placing a hold', () => {
  test('stops the lot, and says so on its page', async () => {
    await placed({ lotId: wood.lotId })
    await expect(walkUp()).rejects.toThrow('black tips')
    const view = await getLot(database.db, group.member, wood.code)
    expect(view?.lot.hold).toMatchObject({ reason: 'black tips', placedBy: 'Stan Steward' })
    expect(view?.holds[0]).toMatchObject({
      reason: 'black tips',
      placedBy: 'Stan Steward',
      onLimb: false,
      releasedAt: null,
    })
  })

  test('on a limb stops every lot of it, and new ones', async () => {
    await placed({ limbId: wood.limbId })
    await expect(walkUp()).rejects.toThrow('black tips')
    const cut = await logCuttingSession(database.db, group.member, {
      key: randomUUID(),
      cutterId: group.member.memberId,
      cutOn: civilDate('2027-02-04'),
      toolCare: 'not_noted',
      lots: [
        {
          limbId: wood.limbId,
          sticks: 5,
          kind: 'scion_wood',
          diameter: 'pencil',
          budStage: 0,
          packaging: 'sealed_damp',
          storeId: wood.storeId,
        },
      ],
    })
    expect(cut).toMatchObject({ refusal: { kind: 'limb-held' } })
  })

  test('still lets the wood be destroyed', async () => {
    await placed({ lotId: wood.lotId })
    const lost = await recordLoss(database.db, group.steward, {
      key: randomUUID(),
      lotId: wood.lotId,
      sticks: 20,
      fate: 'destroyed',
      reason: 'burnt as advised',
    })
    expect(lost).toMatchObject({ ok: true, value: { left: 0 } })
  })

  test.each(['helper', 'member'] as const)('is refused to a %s', async (role) => {
    expect(await place({ lotId: wood.lotId }, group[role])).toMatchObject({
      refusal: { kind: 'not-allowed', right: 'place-holds' },
    })
  })

  test('is refused on what is held already, with the reason', async () => {
    await placed({ lotId: wood.lotId })
    expect(await place({ lotId: wood.lotId })).toMatchObject({
      refusal: { kind: 'held-already', reason: 'black tips' },
    })
  })

  test('by two stewards at once stands once', async () => {
    const both = await Promise.all([
      place({ lotId: wood.lotId }),
      place({ lotId: wood.lotId }, group.organiser),
    ])
    expect(both.map((result) => result.ok).sort()).toEqual([false, true])
    expect(both.find((result) => !result.ok)).toMatchObject({ refusal: { kind: 'held-already' } })
  })

  test('counts once when it is sent twice', async () => {
    const key = randomUUID()
    const first = await place({ lotId: wood.lotId }, group.steward, key)
    expect(await place({ lotId: wood.lotId }, group.steward, key)).toEqual(first)
  })

  test('finds neither another group’s lot nor nothing at all', async () => {
    const other = await makeGroup(database.db)
    expect(await place({ lotId: wood.lotId }, other.steward)).toMatchObject({
      refusal: { kind: 'not-found' },
    })
    expect(await place({ limbId: wood.limbId }, other.steward)).toMatchObject({
      refusal: { kind: 'not-found' },
    })
    expect(await place({})).toMatchObject({ refusal: { kind: 'not-found' } })
    expect(await place({ lotId: wood.lotId, limbId: wood.limbId })).toMatchObject({
      refusal: { kind: 'not-found' },
    })
  })
})

describe('releasing a hold', () => {
  test('lets the wood move again and keeps the reason', async () => {
    const holdId = await placed({ lotId: wood.lotId })
    expect((await release(holdId)).ok).toBe(true)
    await expect(walkUp()).resolves.toBe(19)
    const view = await getLot(database.db, group.member, wood.code)
    expect(view?.lot.hold).toBeNull()
    expect(view?.holds[0]).toMatchObject({
      releasedBy: 'Stan Steward',
      releaseReason: 'the authority looked: frost',
    })
  })

  test('is refused a second time, and to a helper', async () => {
    const holdId = await placed({ lotId: wood.lotId })
    expect(await release(holdId, group.helper)).toMatchObject({ refusal: { kind: 'not-allowed' } })
    await release(holdId)
    expect(await release(holdId, group.organiser)).toEqual({
      ok: false,
      refusal: { kind: 'released-already', releasedBy: 'Stan Steward' },
    })
  })

  test('of another group’s hold finds nothing and changes nothing', async () => {
    const holdId = await placed({ lotId: wood.lotId })
    const other = await makeGroup(database.db)
    expect(await release(holdId, other.steward)).toMatchObject({ refusal: { kind: 'not-found' } })
    expect(await getHold(database.db, other.steward, holdId)).toBeNull()
    expect((await getHold(database.db, group.steward, holdId))?.hold.releasedAt).toBeNull()
  })

  test('does not undo another hold on the same wood', async () => {
    const onLot = await placed({ lotId: wood.lotId })
    await placed({ limbId: wood.limbId })
    await release(onLot)
    await expect(walkUp()).rejects.toThrow('black tips')
  })

  test('leaves room for a new hold', async () => {
    await release(await placed({ lotId: wood.lotId }))
    expect((await place({ lotId: wood.lotId })).ok).toBe(true)
  })
})

describe('what a hold concerns', () => {
  test('is listed with the wood it stops, open ones first', async () => {
    const here = await makeGroup(database.db)
    const first = await makeLot(database.db, here, { sticks: 12 })
    const second = await makeLot(database.db, here, { sticks: 7 })
    const on = (limbId: string) =>
      placeHold(database.db, here.steward, { key: randomUUID(), limbId, reason: 'ooze' })
    const released = await on(first.limbId)
    if (!released.ok) throw new Error(released.refusal.kind)
    await releaseHold(database.db, here.steward, { holdId: released.value.holdId, reason: 'sap' })
    await on(second.limbId)
    const holds = await listHolds(database.db, here.member)
    expect(
      holds.map((hold) => [hold.treeCode, hold.lots, hold.sticksInStore, hold.releasedAt !== null]),
    ).toEqual([
      [second.treeCode, 1, 7, false],
      [first.treeCode, 1, 12, true],
    ])
  })

  test('names who has sticks to stewards only', async () => {
    await moveSticks(database.db.prisma, {
      groupId: group.groupId,
      id: randomUUID(),
      lotId: wood.lotId,
      kind: 'lose',
      from: 'store',
      to: 'lost',
      sticks: 3,
      happenedAt: new Date('2027-02-01T12:00:00Z'),
      recordedBy: group.helper.memberId,
    })
    const holdId = await placed({ limbId: wood.limbId })
    const [steward, member] = await Promise.all([
      getHold(database.db, group.steward, holdId),
      getHold(database.db, group.member, holdId),
    ])
    expect(steward).toMatchObject({ seesHolders: true, mayRelease: true })
    expect(member).toMatchObject({ seesHolders: false, mayRelease: false })
    expect(member?.lots[0]).toMatchObject({ sums: { cut: 20, free: 17, lost: 3 }, holders: [] })
  })

  test('names the lots cut with the same tool on the same day, and which came after', async () => {
    const [before, after] = [await makeLot(database.db, group), await makeLot(database.db, group)]
    const lot = (limbId: string) => ({
      limbId,
      sticks: 5,
      kind: 'scion_wood' as const,
      diameter: 'pencil' as const,
      budStage: 0,
      packaging: 'sealed_damp' as const,
      storeId: wood.storeId,
    })
    const session = await logCuttingSession(database.db, group.member, {
      key: randomUUID(),
      cutterId: group.member.memberId,
      cutOn: civilDate('2027-02-01'),
      toolCare: 'not_wiped',
      lots: [lot(before.limbId), lot(wood.limbId), lot(after.limbId)],
    })
    if (!session.ok) throw new Error(session.refusal.kind)
    const holdId = await placed({ limbId: wood.limbId })
    const view = await getHold(database.db, group.steward, holdId)
    expect(view?.neighbours.map((lot) => [lot.treeCode, lot.isAfter, lot.toolCare])).toEqual([
      [before.treeCode, false, 'not_wiped'],
      [after.treeCode, true, 'not_wiped'],
    ])
  })
})
