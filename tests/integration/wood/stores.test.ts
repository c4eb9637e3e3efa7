import { randomUUID } from 'node:crypto'
import { beforeAll, describe, expect, test } from 'vitest'
import type { Actor } from '#lib/access/actor.ts'
import { civilDate } from '#lib/kernel/civil-date.ts'
import { addStore } from '#lib/wood/add-store.ts'
import { editStore } from '#lib/wood/edit-store.ts'
import type { AddStoreInput, EditStoreInput } from '#lib/wood/input.ts'
import { getLot, storeChoices } from '#lib/wood/queries.ts'
import { recordLoss } from '#lib/wood/record-loss.ts'
import { reportReading } from '#lib/wood/report-reading.ts'
import { getStore, listStores } from '#lib/wood/store-queries.ts'
import { makeGroup, makeLot, type TestGroup } from '#tests/support/actors.ts'
import { testDatabase } from '#tests/support/database.ts'

const database = testDatabase({ now: () => new Date('2027-02-04T09:00:00Z') })

let group: TestGroup
let count = 0

beforeAll(async () => {
  group = await makeGroup(database.db)
})

const newStore = (more: Partial<AddStoreInput> = {}): AddStoreInput => ({
  key: randomUUID(),
  name: `Store ${++count}`,
  kind: 'fridge',
  ...more,
})

const added = async (actor: Actor, more: Partial<AddStoreInput> = {}) => {
  const result = await addStore(database.db, actor, newStore(more))
  if (!result.ok) throw new Error(result.refusal.kind)
  return result.value.storeId
}

const edit = (actor: Actor, storeId: string, more: Partial<EditStoreInput> = {}) =>
  editStore(database.db, actor, { storeId, name: `Store ${++count}`, kind: 'fridge', closed: false, ...more })

describe('adding a store', () => {
  test('makes a member its keeper, and leaves a helper’s without one', async () => {
    const own = await getStore(database.db, group.member, await added(group.member))
    const common = await getStore(database.db, group.member, await added(group.helper, { typedCelsius: 2.5 }))
    expect(own).toMatchObject({ keeperName: 'Mabel Member', typedCelsius: null, mayKeep: true })
    expect(common).toMatchObject({ keeperName: null, typedCelsius: 2.5, mayKeep: false })
  })

  test('refuses a member who names another keeper, and a keeper of another group', async () => {
    expect(
      await addStore(database.db, group.member, newStore({ keeperId: group.otherMember.memberId })),
    ).toMatchObject({
      refusal: { kind: 'not-allowed', right: 'keep-stores' },
    })
    const other = await makeGroup(database.db)
    expect(
      await addStore(database.db, group.helper, newStore({ keeperId: other.member.memberId })),
    ).toMatchObject({
      refusal: { kind: 'no-such-member' },
    })
  })

  test('refuses a name that the group has, but not one that another group has', async () => {
    await added(group.helper, { name: 'Group fridge' })
    expect(await addStore(database.db, group.member, newStore({ name: 'Group fridge' }))).toMatchObject({
      refusal: { kind: 'name-taken', name: 'Group fridge' },
    })
    const other = await makeGroup(database.db)
    expect((await addStore(database.db, other.helper, newStore({ name: 'Group fridge' }))).ok).toBe(true)
  })

  test('counts once when it is sent twice', async () => {
    const input = newStore()
    const first = await addStore(database.db, group.member, input)
    expect(await addStore(database.db, group.member, input)).toEqual(first)
  })
})

describe('changing a store', () => {
  test('is for its keeper and for helpers', async () => {
    const storeId = await added(group.member)
    expect(await edit(group.otherMember, storeId)).toMatchObject({ refusal: { kind: 'not-your-store' } })
    expect((await edit(group.member, storeId, { keeperId: group.member.memberId, typedCelsius: 3 })).ok).toBe(
      true,
    )
    expect((await edit(group.helper, storeId)).ok).toBe(true)
  })

  test('does not let a keeper hand it to somebody else', async () => {
    const storeId = await added(group.member)
    expect(await edit(group.member, storeId, { keeperId: group.otherMember.memberId })).toMatchObject({
      refusal: { kind: 'not-your-store' },
    })
  })

  test('refuses a taken name and a store of another group', async () => {
    const storeId = await added(group.helper)
    await added(group.helper, { name: 'Taken' })
    expect(await edit(group.helper, storeId, { name: 'Taken' })).toMatchObject({
      refusal: { kind: 'name-taken' },
    })
    const other = await makeGroup(database.db)
    expect(await edit(other.organiser, storeId)).toMatchObject({ refusal: { kind: 'not-found' } })
    expect(await getStore(database.db, other.organiser, storeId)).toBeNull()
  })

  test('closes it only when its wood is gone, and a closed one is not offered', async () => {
    const wood = await makeLot(database.db, group, { cutOn: '2027-01-11', sticks: 4 })
    expect(await edit(group.helper, wood.storeId, { closed: true })).toMatchObject({
      refusal: { kind: 'store-holds-wood', lots: 1 },
    })
    await recordLoss(database.db, group.helper, {
      key: randomUUID(),
      lotId: wood.lotId,
      sticks: 4,
      fate: 'destroyed',
      reason: 'dried',
    })
    expect((await edit(group.helper, wood.storeId, { closed: true })).ok).toBe(true)
    expect((await getStore(database.db, group.helper, wood.storeId))?.closedOn).toBe('2027-02-04')
    expect((await storeChoices(database.db, group.helper)).map((store) => store.id)).not.toContain(
      wood.storeId,
    )
  })
})

describe('a reading', () => {
  const read = (actor: Actor, storeId: string, onDay: string, celsius: number, atTime?: string) =>
    reportReading(database.db, actor, {
      key: randomUUID(),
      storeId,
      onDay: civilDate(onDay),
      celsius,
      basis: 'typed',
      ...(atTime ? { atTime } : {}),
    })

  test('stands at the time that was given, or at noon', async () => {
    const storeId = await added(group.member)
    await read(group.member, storeId, '2027-01-20', 3.5, '08:30')
    await read(group.member, storeId, '2027-01-25', 4)
    await read(group.member, storeId, '2027-02-04', 5)
    const store = await getStore(database.db, group.member, storeId)
    expect(
      store?.readings.map((reading) => [reading.at.toISOString(), reading.celsius, reading.takenBy]),
    ).toEqual([
      ['2027-02-04T09:00:00.000Z', 5, 'Mabel Member'],
      ['2027-01-25T12:00:00.000Z', 4, 'Mabel Member'],
      ['2027-01-20T08:30:00.000Z', 3.5, 'Mabel Member'],
    ])
    const listed = (await listStores(database.db, group.member)).find((row) => row.storeId === storeId)
    expect(listed?.lastReading?.celsius).toBe(5)
  })

  test('moves the window of the wood that was there', async () => {
    const wood = await makeLot(database.db, group, { cutOn: '2027-01-11' })
    const before = await getLot(database.db, group.member, wood.code)
    expect((await read(group.helper, wood.storeId, '2027-01-20', 9)).ok).toBe(true)
    const after = await getLot(database.db, group.member, wood.code)
    expect(after?.stays[0]?.celsius).toEqual({ low: 3, mid: 6, high: 9 })
    if (before?.window.kind !== 'window' || after?.window.kind !== 'window') throw new Error('No window')
    expect(after.window.early < before.window.early).toBe(true)
  })

  test('is refused to come, twice for one moment, and of a store that is not one’s own', async () => {
    const storeId = await added(group.helper)
    expect(await read(group.helper, storeId, '2027-02-04', 3, '10:00')).toMatchObject({
      refusal: { kind: 'day-to-come' },
    })
    await read(group.helper, storeId, '2027-02-01', 3)
    expect(await read(group.helper, storeId, '2027-02-01', 4)).toMatchObject({
      refusal: { kind: 'read-already' },
    })
    expect(await read(group.member, storeId, '2027-02-02', 3)).toMatchObject({
      refusal: { kind: 'not-your-store' },
    })
    const other = await makeGroup(database.db)
    expect(await read(other.organiser, storeId, '2027-02-02', 3)).toMatchObject({
      refusal: { kind: 'not-found' },
    })
  })
})

describe('the list of stores', () => {
  test('counts the wood that is there now', async () => {
    const here = await makeGroup(database.db)
    const wood = await makeLot(database.db, here, { sticks: 12 })
    const row = (await listStores(database.db, here.member)).find((store) => store.storeId === wood.storeId)
    expect(row).toMatchObject({ lots: 1, sticks: 12 })
    expect((await getStore(database.db, here.member, wood.storeId))?.lots.map((lot) => lot.code)).toEqual([
      wood.code,
    ])
  })
})
