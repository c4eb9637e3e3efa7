import { beforeEach, describe, expect, test } from 'vitest'
import { civilDate } from '#lib/kernel/civil-date.ts'
import { answerPledge } from '#lib/pledges/answer-pledge.ts'
import { askForWood } from '#lib/pledges/ask-for-wood.ts'
import { AnswerPledgeInput, AskForWoodInput } from '#lib/pledges/input.ts'
import { promiseWood } from '#lib/pledges/promise-wood.ts'
import { keeperHistories, pledgesOf } from '#lib/pledges/queries.ts'
import { remindKeepers } from '#lib/pledges/remind-keepers.ts'
import { settlePledge } from '#lib/pledges/settle-pledge.ts'
import { makeGroup, makeLot, type TestGroup, type TestLot } from '#tests/support/actors.ts'
import { testDatabase } from '#tests/support/database.ts'
import { makeSwap, placeTestHold, valueIn } from '../swaps/swap-world.ts'

const database = testDatabase()
const address = 'https://wood.example.org'
let group: TestGroup
let swapId: string
let lot: TestLot
let keeperEmail: string
let bringBy: string

beforeEach(async () => {
  const { db } = database
  group = await makeGroup(db)
  swapId = await makeSwap(db, group)
  lot = await makeLot(db, group, { sticks: 4 })
  keeperEmail = `${db.newId()}@example.org`
  const { groupId, member } = group
  await db.prisma.member.update({
    where: { groupId_id: { groupId, id: member.memberId } },
    data: { email: keeperEmail },
  })
  const swap = await db.prisma.swap.findUniqueOrThrow({ where: { groupId_id: { groupId, id: swapId } } })
  bringBy = swap.heldOn.toISOString().slice(0, 10)
})

const request = (more: object = {}) =>
  AskForWoodInput.parse({
    key: database.db.newId(),
    swapId,
    limbId: lot.limbId,
    sticks: 6,
    bringBy,
    ...more,
  })
const ask = (more: object = {}) => askForWood(database.db, group.organiser, request(more), address)
const promise = (pledgeId: string, sticks = 5) =>
  AnswerPledgeInput.parse({ pledgeId, answer: 'promise', sticks: String(sticks) })
const lettersTo = () =>
  database.db.prisma.outboxMail.findMany({ where: { toAddress: keeperEmail }, orderBy: { id: 'asc' } })

describe('asking a keeper for wood', () => {
  test('writes to the keeper once, however often the button is pressed', async () => {
    const { db } = database
    const input = request()
    const first = await askForWood(db, group.organiser, input, address)
    expect(await askForWood(db, group.organiser, input, address)).toEqual(first)
    const letters = await lettersTo()
    expect(letters).toHaveLength(1)
    expect(letters[0]?.body).toContain(`${address}/g/${group.slug}/swaps/${swapId}/promises`)
    expect(letters[0]?.body).toContain('6 sticks')
  })

  test('is refused while the limb is asked or promised, on hold, gone, or the day is past the swap', async () => {
    const { db } = database
    valueIn(await ask())
    expect(await ask()).toMatchObject({ refusal: { kind: 'asked-already', sticks: 6 } })
    const held = await makeLot(db, group)
    await placeTestHold(db, group, { limbId: held.limbId })
    expect(await ask({ limbId: held.limbId })).toMatchObject({ refusal: { kind: 'held' } })
    const gone = await makeLot(db, group)
    await db.prisma.limb.update({
      where: { groupId_id: { groupId: group.groupId, id: gone.limbId } },
      data: { goneOn: new Date('2026-01-20T00:00:00Z') },
    })
    expect(await ask({ limbId: gone.limbId })).toMatchObject({ refusal: { kind: 'limb-gone' } })
    const other = await makeLot(db, group)
    expect(await ask({ limbId: other.limbId, bringBy: '2099-01-01' })).toMatchObject({
      refusal: { kind: 'bring-by-after-the-swap' },
    })
  })

  test('is for the organiser, within the group', async () => {
    const { db } = database
    expect(await askForWood(db, group.helper, request(), address)).toMatchObject({
      refusal: { kind: 'not-allowed' },
    })
    const others = await makeGroup(db)
    expect(await askForWood(db, others.organiser, request(), address)).toMatchObject({
      refusal: { kind: 'not-found' },
    })
  })

  test('makes one request when two ask at the same moment', async () => {
    const answers = await Promise.all([ask(), ask()])
    expect(answers.filter(({ ok }) => ok)).toHaveLength(1)
    expect(answers.find(({ ok }) => !ok)).toMatchObject({ refusal: { kind: 'asked-already' } })
  })

  test('reminds once those who have not answered', async () => {
    const { db } = database
    valueIn(await ask())
    const remind = () => remindKeepers(db, group.organiser, { key: db.newId(), swapId }, address)
    expect(valueIn(await remind())).toEqual({ reminded: 1, swapId })
    expect(valueIn(await remind())).toEqual({ reminded: 0, swapId })
    expect((await lettersTo()).map(({ subject }) => subject)).toEqual([
      expect.stringMatching(/^Can you bring/),
      expect.stringMatching(/^A reminder/),
    ])
  })
})

describe('a promise', () => {
  test('is given, changed and declined by the keeper or a helper, and by no other member', async () => {
    const { db } = database
    const { pledgeId } = valueIn(await ask())
    expect(await answerPledge(db, group.otherMember, promise(pledgeId))).toMatchObject({
      refusal: { kind: 'not-yours' },
    })
    valueIn(await answerPledge(db, group.member, promise(pledgeId)))
    valueIn(await answerPledge(db, group.helper, promise(pledgeId, 3)))
    expect(await pledgesOf(db, group.member, swapId)).toMatchObject([
      { status: 'promised', sticksAsked: 6, sticksPromised: 3, isYours: true },
    ])
    valueIn(await answerPledge(db, group.member, { pledgeId, answer: 'decline' }))
    expect(await pledgesOf(db, group.organiser, swapId)).toMatchObject([
      { status: 'declined', sticksPromised: null },
    ])
    expect(await pledgesOf(db, group.otherMember, swapId)).toEqual([])
  })

  test('can be made unasked for one’s own limb only', async () => {
    const { db } = database
    expect(await promiseWood(db, group.otherMember, request())).toMatchObject({
      refusal: { kind: 'not-yours' },
    })
    valueIn(await promiseWood(db, group.member, request()))
    expect(await pledgesOf(db, group.member, swapId)).toMatchObject([
      { status: 'promised', sticksAsked: null, sticksPromised: 6 },
    ])
  })

  test('is settled by what came, and the keeper’s history counts it for the organiser alone', async () => {
    const { db } = database
    const { pledgeId } = valueIn(await ask())
    expect(await settlePledge(db, group.helper, { pledgeId, outcome: 'delivered' })).toMatchObject({
      refusal: { kind: 'not-promised' },
    })
    valueIn(await answerPledge(db, group.member, promise(pledgeId)))
    expect(await settlePledge(db, group.member, { pledgeId, outcome: 'delivered' })).toMatchObject({
      refusal: { kind: 'not-allowed' },
    })
    valueIn(await settlePledge(db, group.helper, { pledgeId, outcome: 'not_come' }))
    valueIn(await settlePledge(db, group.helper, { pledgeId, outcome: 'short' }))
    expect(await answerPledge(db, group.member, promise(pledgeId))).toMatchObject({
      refusal: { kind: 'settled', status: 'short' },
    })
    const histories = await keeperHistories(db, group.organiser)
    expect(histories?.get(group.member.memberId)).toEqual({ delivered: 0, short: 1, notCome: 0 })
    expect(await keeperHistories(db, group.helper)).toBeNull()
  })
})

describe('the table of promises', () => {
  const insert = (columns: object) =>
    database.db.prisma.pledge.create({
      data: {
        groupId: group.groupId,
        id: database.db.newId(),
        swapId,
        limbId: lot.limbId,
        keeperId: group.member.memberId,
        status: 'promised',
        sticksPromised: 3,
        answeredAt: new Date(),
        bringBy: new Date(`${civilDate('2026-02-01')}T00:00:00Z`),
        ...columns,
      },
    })

  test.each([
    ['pledge_was_asked_by_somebody', { sticksAsked: 4 }],
    ['pledge_was_asked_or_promised', { status: 'asked', sticksPromised: null, answeredAt: null }],
    ['pledge_waits_for_an_answer', { status: 'asked', sticksPromised: null }],
    ['pledge_says_how_many', { sticksPromised: null }],
    ['pledge_is_settled_at_a_time', { status: 'delivered' }],
    ['pledge_is_for_some_sticks', { sticksPromised: 0 }],
  ])('refuses what breaks %s', async (constraint, columns) => {
    await expect(insert(columns)).rejects.toThrow(constraint)
  })

  test('has one open promise of a limb for a swap', async () => {
    await insert({})
    await expect(insert({})).rejects.toThrow(/pledge_open_once_for_a_limb|Unique constraint/)
  })
})
