import { beforeEach, describe, expect, test } from 'vitest'
import type { Actor } from '#lib/access/actor.ts'
import { addWish } from '#lib/wishes/add-wish.ts'
import { dropWish } from '#lib/wishes/drop-wish.ts'
import { AddWishInput } from '#lib/wishes/input.ts'
import { moveWish } from '#lib/wishes/move-wish.ts'
import { callForWood, wishesOf } from '#lib/wishes/queries.ts'
import { makeGroup, makeLot, type TestGroup, type TestLot } from '#tests/support/actors.ts'
import { testDatabase } from '#tests/support/database.ts'
import { makeSwap, placeTestHold, valueIn } from '../swaps/swap-world.ts'

const database = testDatabase()
let group: TestGroup
let swapId: string
let lot: TestLot

beforeEach(async () => {
  group = await makeGroup(database.db)
  swapId = await makeSwap(database.db, group)
  lot = await makeLot(database.db, group, { sticks: 4 })
})

const inWords = (words: string, more: object = {}) =>
  AddWishInput.parse({ key: database.db.newId(), swapId, words, sticks: 2, ...more })
const ofVariety = (varietyId: string, more: object = {}) =>
  AddWishInput.parse({ key: database.db.newId(), swapId, varietyId, sticks: 3, ...more })
const listOf = async (actor: Actor, memberId?: string) =>
  (await wishesOf(database.db, actor, swapId, memberId))?.map(({ rank, words, variety }) => [
    rank,
    words ?? variety?.id,
  ])

describe('a list of wishes', () => {
  test('grows at its end, and each wish moves one place at a time', async () => {
    const { db } = database
    await addWish(db, group.member, inWords('any early peach'))
    await addWish(db, group.member, ofVariety(lot.varietyId))
    const third = valueIn(await addWish(db, group.member, inWords('a cooking pear')))
    expect(third.rank).toBe(3)
    const up = { wishId: third.wishId, rank: 3, direction: 'up' } as const
    expect(valueIn(await moveWish(db, group.member, up)).rank).toBe(2)
    expect(await listOf(group.member)).toEqual([
      [1, 'any early peach'],
      [2, 'a cooking pear'],
      [3, lot.varietyId],
    ])
    expect(valueIn(await moveWish(db, group.member, up)).rank, 'a second click').toBe(2)
  })

  test('closes up when a wish is dropped', async () => {
    const { db } = database
    const first = valueIn(await addWish(db, group.member, inWords('any early peach')))
    await addWish(db, group.member, inWords('a cooking pear'))
    await dropWish(db, group.member, { wishId: first.wishId })
    expect(await listOf(group.member)).toEqual([[1, 'a cooking pear']])
    expect(await dropWish(db, group.member, { wishId: first.wishId })).toEqual({
      ok: false,
      refusal: { kind: 'not-found' },
    })
  })

  test('keeps its ranks whole when five wishes arrive at the same moment', async () => {
    const { db } = database
    await Promise.all(['a', 'b', 'c', 'd', 'e'].map((words) => addWish(db, group.member, inWords(words))))
    expect((await listOf(group.member))?.map(([rank]) => rank)).toEqual([1, 2, 3, 4, 5])
  })

  test('takes a second click on the same form as one wish', async () => {
    const { db } = database
    const input = inWords('any early peach')
    expect(await addWish(db, group.member, input)).toEqual(await addWish(db, group.member, input))
    expect(await listOf(group.member)).toHaveLength(1)
  })

  test('refuses a variety that stands in it already', async () => {
    const { db } = database
    await addWish(db, group.member, ofVariety(lot.varietyId))
    expect(await addWish(db, group.member, ofVariety(lot.varietyId))).toEqual({
      ok: false,
      refusal: { kind: 'wished-already', rank: 1 },
    })
  })

  test('is written by its own person or a helper, and read by nobody else', async () => {
    const { db } = database
    const { memberId } = group.member
    await addWish(db, group.helper, inWords('a cooking pear', { memberId }))
    expect(await listOf(group.member)).toEqual([[1, 'a cooking pear']])
    expect(await addWish(db, group.otherMember, inWords('mine', { memberId }))).toMatchObject({
      refusal: { kind: 'not-allowed' },
    })
    expect(await wishesOf(db, group.otherMember, swapId, memberId)).toBeNull()
  })

  test('does not reach into another group', async () => {
    const { db } = database
    const others = await makeGroup(db)
    const theirs = await makeLot(db, others)
    const mine = valueIn(await addWish(db, group.member, inWords('any early peach')))
    const notFound = { ok: false, refusal: { kind: 'not-found' } }
    expect(await addWish(db, group.member, ofVariety(theirs.varietyId))).toEqual(notFound)
    expect(await addWish(db, others.member, inWords('x'))).toEqual(notFound)
    expect(await dropWish(db, others.organiser, { wishId: mine.wishId })).toEqual(notFound)
  })

  test('says what is known of the variety on the stock that it is meant for', async () => {
    const { db } = database
    await addWish(db, group.member, ofVariety(lot.varietyId, { stock: 'Quince A' }))
    await addWish(db, group.member, inWords('a cooking pear', { stock: 'Quince A' }))
    const [apple, words] = (await wishesOf(db, group.member, swapId)) ?? []
    expect(apple?.onStock).toMatchObject({ warns: true })
    expect(words?.onStock).toBeNull()
  })

  test('is closed when the swap is finished', async () => {
    const { db } = database
    await db.prisma.swap.update({
      where: { groupId_id: { groupId: group.groupId, id: swapId } },
      data: { status: 'finished' },
    })
    expect(await addWish(db, group.member, inWords('late'))).toMatchObject({
      refusal: { kind: 'swap-finished' },
    })
  })
})

describe('the table of wishes', () => {
  const insert = (columns: object) =>
    database.db.prisma.wish.create({
      data: {
        groupId: group.groupId,
        id: database.db.newId(),
        swapId,
        memberId: group.member.memberId,
        rank: 1,
        words: 'any early peach',
        sticks: 2,
        recordedById: group.member.memberId,
        madeAt: new Date(),
        ...columns,
      },
    })

  test.each([
    ['wish_names_something', { words: null }],
    ['wish_names_something', { words: '  ' }],
    ['wish_rank_counts_from_one', { rank: 0 }],
    ['wish_is_for_some_sticks', { sticks: 0 }],
    ['wish_of_a_variety_has_no_other_crop', { words: null, taxonKey: 'malus-domestica', varietyId: 'lot' }],
  ])('refuses what breaks %s', async (constraint, columns) => {
    const data = 'varietyId' in columns ? { ...columns, varietyId: lot.varietyId } : columns
    await expect(insert(data)).rejects.toThrow(constraint)
  })

  test('holds a rank once', async () => {
    await insert({})
    await expect(insert({ words: 'a cooking pear' })).rejects.toThrow(
      /wish_rank_stands_once|Unique constraint/,
    )
  })
})

describe('the call for wood', () => {
  test('sets wishes against what the limbs and the stores can give', async () => {
    const { db } = database
    await addWish(db, group.member, ofVariety(lot.varietyId))
    await addWish(db, group.otherMember, ofVariety(lot.varietyId))
    await addWish(db, group.otherMember, inWords('Any early peach'))
    await addWish(db, group.member, inWords('any early peach'))
    const call = await callForWood(db, group.organiser, swapId)
    expect(call.varieties).toMatchObject([
      { varietyId: lot.varietyId, members: 2, sticksWished: 6, sticksInStore: 4, sticksPromised: 0 },
    ])
    expect(call.varieties[0]?.limbs).toMatchObject([{ limbId: lot.limbId, pledge: null }])
    expect(call.inWords).toEqual([{ words: 'Any early peach', crop: null, members: 2, sticksWished: 4 }])
  })

  test('leaves out limbs that are on hold or gone', async () => {
    const { db } = database
    await addWish(db, group.member, ofVariety(lot.varietyId))
    await placeTestHold(db, group, { limbId: lot.limbId })
    expect((await callForWood(db, group.organiser, swapId)).varieties[0]?.limbs).toEqual([])
  })
})
