import { randomUUID } from 'node:crypto'
import { beforeEach, describe, expect, test } from 'vitest'
import type { Actor } from '#lib/access/actor.ts'
import { RecordAttemptInput, RecordCheckInput } from '#lib/attempts/input.ts'
import { recordAttempt } from '#lib/attempts/record-attempt.ts'
import { recordCheck } from '#lib/attempts/record-check.ts'
import { required } from '#lib/kernel/assert.ts'
import { civilDate } from '#lib/kernel/civil-date.ts'
import { claimShares } from '#lib/ledger/claim-statements.ts'
import { moveSticks } from '#lib/ledger/move-sticks.ts'
import { getWeek, needsOf } from '#lib/week/queries.ts'
import { stickSums } from '#lib/week/stick-sums.ts'
import { seasonStarting } from '#lib/wood/season.ts'
import { giveSticks } from '#tests/integration/attempts/given.ts'
import { makeGroup, makeLot, type TestGroup } from '#tests/support/actors.ts'
import { testDatabase } from '#tests/support/database.ts'

let now = new Date('2026-02-10T10:00:00Z')
const database = testDatabase({ now: () => now })
let group: TestGroup

beforeEach(async () => {
  now = new Date('2026-02-10T10:00:00Z')
  group = await makeGroup(database.db)
})

const needs = (actor: Actor, today = '2026-02-10') => needsOf(database.db, actor, civilDate(today))
const kinds = async (actor: Actor, today?: string) => (await needs(actor, today)).map(({ kind }) => kind)

interface SwapTimes {
  readonly opens?: string
  readonly closes?: string
  readonly status?: 'planned' | 'open' | 'finished'
  readonly heldOn?: string
}

async function aSwap({ opens, closes, status, heldOn }: SwapTimes = {}): Promise<string> {
  const { db } = database
  const id = db.newId()
  await db.prisma.swap.create({
    data: {
      groupId: group.groupId,
      id,
      name: 'Winter swap',
      heldOn: new Date(`${heldOn ?? '2026-02-21'}T00:00:00Z`),
      place: 'Hall',
      status: status ?? 'open',
      claimsOpenAt: new Date(opens ?? '2026-02-01T18:00:00Z'),
      claimsCloseAt: new Date(closes ?? '2026-02-14T18:00:00Z'),
      capPerMember: 10,
      capPerVariety: 10,
      createdById: group.organiser.memberId,
    },
  })
  return id
}

async function aClaim(swapId: string, memberId: string, shares: number): Promise<void> {
  const { db } = database
  const lot = await makeLot(db, group, { sticks: 10 })
  const offeringId = db.newId()
  await db.prisma.offering.create({
    data: {
      groupId: group.groupId,
      id: offeringId,
      swapId,
      lotId: lot.lotId,
      sticksPerShare: 2,
      shares: 5,
      offeredById: group.organiser.memberId,
      offeredAt: now,
    },
  })
  const claim = {
    groupId: group.groupId,
    offeringId,
    memberId,
    recordedBy: memberId,
    shares,
    purpose: null,
    key: randomUUID(),
    hash: 'claim',
  }
  const result = await claimShares(db, claim)
  expect(result.ok).toBe(true)
}

async function anAttempt(
  actor: Actor,
  madeOn: string,
  fields: Record<string, unknown> = {},
): Promise<string> {
  const lot = await makeLot(database.db, group, { cutOn: '2024-01-10', sticks: 1 })
  const input = RecordAttemptInput.parse({
    key: randomUUID(),
    source: 'own',
    varietyId: lot.varietyId,
    method: 'cleft',
    madeOn,
    pieces: 5,
    ...fields,
  })
  const result = await recordAttempt(database.db, actor, input)
  return required(result.ok ? result.value.attemptId : null, 'an attempt')
}

describe('what a swap asks for', () => {
  test('a newcomer has nothing to do', async () => {
    expect(await needs(group.otherMember)).toEqual([])
  })

  test('claims that open within two weeks, and not sooner', async () => {
    await aSwap({ opens: '2026-02-24T18:00:00Z', closes: '2026-03-10T18:00:00Z', heldOn: '2026-03-14' })
    expect(await kinds(group.otherMember)).toEqual(['claims-will-open'])
    now = new Date('2026-02-09T10:00:00Z')
    expect(await kinds(group.otherMember, '2026-02-09')).toEqual([])
  })

  test('claims that close, with what one has claimed', async () => {
    const swapId = await aSwap()
    await aClaim(swapId, group.otherMember.memberId, 2)
    expect(await needs(group.otherMember)).toMatchObject([
      { kind: 'claims-close', claims: 1, sticks: 4, by: '2026-02-14', isLate: false },
    ])
    expect(await needs(group.member)).toMatchObject([{ kind: 'claims-close', claims: 0, sticks: 0 }])
  })

  test('sticks to collect once claims are closed, and for the helpers to hand over', async () => {
    const swapId = await aSwap()
    await aClaim(swapId, group.otherMember.memberId, 2)
    await aClaim(swapId, group.member.memberId, 1)
    now = new Date('2026-02-16T10:00:00Z')
    expect(await needs(group.otherMember, '2026-02-16')).toMatchObject([
      { kind: 'collect', claims: 1, sticks: 4, by: '2026-02-21', isLate: false },
    ])
    const helpers = await needs(group.helper, '2026-02-16')
    expect(helpers).toMatchObject([{ kind: 'hand-over', people: 2, sticks: 6, by: '2026-02-21' }])
    now = new Date('2026-02-23T10:00:00Z')
    expect((await needs(group.otherMember, '2026-02-23'))[0]).toMatchObject({ kind: 'collect', isLate: true })
  })

  test('an organiser is told to open a swap whose claims should have begun, and to finish one that is over', async () => {
    await aSwap({ status: 'planned' })
    expect(await kinds(group.organiser)).toEqual(['open-the-swap'])
    expect(await kinds(group.helper)).toEqual([])
    await database.db.prisma.swap.updateMany({ where: { groupId: group.groupId }, data: { status: 'open' } })
    now = new Date('2026-02-23T10:00:00Z')
    expect(await kinds(group.organiser, '2026-02-23')).toEqual(['finish-the-swap'])
  })
})

describe('what wood asks for', () => {
  test('says so when it is near its likely limit, to those who look after it', async () => {
    await makeLot(database.db, group, { cutOn: '2026-01-10', varietyName: 'Baldwin' })
    expect(await kinds(group.member)).toEqual([])
    now = new Date('2026-05-25T10:00:00Z')
    const [need, ...others] = await needs(group.member, '2026-05-25')
    expect(others).toEqual([])
    expect(need).toMatchObject({
      kind: 'wood-near-limit',
      wood: [{ varietyName: 'Baldwin', sticks: 20, limitedBy: 'reserve' }],
    })
    expect(await kinds(group.otherMember, '2026-05-25')).toEqual([])
    expect(await kinds(group.helper, '2026-05-25')).toEqual(['wood-near-limit'])
  })

  test('is in one’s hands until it is recorded as used', async () => {
    const lot = await makeLot(database.db, group, { sticks: 6 })
    await giveSticks(database.db, group, lot, group.otherMember.memberId, 3)
    expect(await needs(group.otherMember)).toMatchObject([{ kind: 'wood-in-hand', wood: [{ sticks: 3 }] }])
    const input = RecordAttemptInput.parse({
      key: randomUUID(),
      source: 'lot',
      lotId: lot.lotId,
      method: 'cleft',
      madeOn: '2026-02-09',
      pieces: 3,
    })
    await recordAttempt(database.db, group.otherMember, input)
    expect(await kinds(group.otherMember)).not.toContain('wood-in-hand')
  })

  test('has no name, as helpers are told', async () => {
    const { db } = database
    const lot = await makeLot(db, group)
    await db.prisma.limb.update({
      where: { groupId_id: { groupId: group.groupId, id: lot.limbId } },
      data: { varietyId: null },
    })
    expect(await kinds(group.helper)).toEqual(['wood-without-name'])
    expect(await kinds(group.member)).toEqual([])
  })
})

describe('what grafts ask for', () => {
  test('a look when it is due, the longest overdue first, and no more than three by name', async () => {
    for (const madeOn of ['2026-01-10', '2026-01-02', '2026-01-06', '2026-01-08', '2026-02-01']) {
      await anAttempt(group.otherMember, madeOn)
    }
    const found = (await needs(group.otherMember)).filter(({ kind }) => kind !== 'care')
    expect(found.map((need) => (need.kind === 'look' ? need.due.attempt.madeOn : need.kind))).toEqual([
      '2026-01-02',
      '2026-01-06',
      '2026-01-08',
      'more-looks',
    ])
    expect(found.at(-1)).toMatchObject({ count: 1 })
  })

  test('what is late stands before what is only wanted soon', async () => {
    await aSwap({ closes: '2026-02-10T18:00:00Z' })
    await anAttempt(group.otherMember, '2025-12-20')
    const found = (await needs(group.otherMember)).filter(({ kind }) => kind !== 'care')
    expect(found).toMatchObject([
      { kind: 'look', isLate: true },
      { kind: 'claims-close', by: '2026-02-10' },
    ])
  })

  test('care that waits, a line for each task, and a tie that may strangle by itself', async () => {
    for (const madeOn of ['2025-11-28', '2025-11-30']) await anAttempt(group.otherMember, madeOn)
    await anAttempt(group.otherMember, '2025-12-01', { wrap: 'string' })
    const care = (await needs(group.otherMember)).filter((need) => need.kind === 'care')
    expect(care.map(({ title, isStrong, batches }) => [title, isStrong, batches.length])).toEqual([
      ['Release the tie', true, 1],
      ['Look at the tie', false, 3],
      ['Rub off shoots below the union', false, 3],
    ])
  })

  test('disease that a grower names reaches the steward', async () => {
    const attemptId = await anAttempt(group.otherMember, '2026-01-02')
    const input = RecordCheckInput.parse({
      key: randomUUID(),
      attemptId,
      checkedOn: '2026-02-08',
      alive: 3,
      dead: 2,
      causes: [{ cause: 'disease', pieces: 2 }],
    })
    await recordCheck(database.db, group.otherMember, input)
    expect(await needs(group.steward)).toMatchObject([
      { kind: 'disease-reported', attemptId, pieces: 2, growerName: 'Otto Other' },
    ])
    expect(await kinds(group.helper)).toEqual([])
  })
})

describe('holds and invitations', () => {
  test('a hold is shown to stewards, to the keeper of the tree and to those who have the wood', async () => {
    const { db } = database
    const lot = await makeLot(db, group, { sticks: 5 })
    await giveSticks(db, group, lot, group.otherMember.memberId, 1)
    await db.prisma.healthHold.create({
      data: {
        groupId: group.groupId,
        id: db.newId(),
        lotId: lot.lotId,
        reason: 'canker seen',
        placedById: group.steward.memberId,
        placedAt: now,
      },
    })
    for (const actor of [group.steward, group.member, group.otherMember]) {
      expect(await kinds(actor)).toContain('holds')
    }
    expect(await kinds(group.helper)).toEqual([])
    const hold = (await needs(group.steward)).find((need) => need.kind === 'holds')
    expect(hold).toMatchObject({ holds: [{ on: 'lot', code: lot.code, reason: 'canker seen' }] })
  })

  test('invitations that nobody has followed are the organiser’s', async () => {
    await database.db.prisma.invitation.create({
      data: {
        groupId: group.groupId,
        id: database.db.newId(),
        email: 'wren@example.org',
        role: 'member',
        tokenHash: randomUUID(),
        invitedById: group.organiser.memberId,
        expiresAt: new Date('2026-02-09T10:00:00Z'),
      },
    })
    expect(await needs(group.organiser)).toMatchObject([{ kind: 'not-joined', people: 1, expired: 1 }])
    expect(await kinds(group.helper)).toEqual([])
  })
})

describe('every stick', () => {
  test('is somewhere: the parts come to what was cut this season', async () => {
    const { db } = database
    const season = seasonStarting(2025)
    const lot = await makeLot(db, group, { sticks: 20 })
    const held = await makeLot(db, group, { sticks: 7 })
    await makeLot(db, group, { sticks: 99, cutOn: '2025-08-31' })
    await db.prisma.healthHold.create({
      data: {
        groupId: group.groupId,
        id: db.newId(),
        limbId: held.limbId,
        reason: 'canker seen',
        placedById: group.steward.memberId,
        placedAt: now,
      },
    })
    await giveSticks(db, group, lot, group.otherMember.memberId, 4)
    const move = {
      groupId: group.groupId,
      lotId: lot.lotId,
      happenedAt: now,
      recordedBy: group.helper.memberId,
    }
    await moveSticks(db.prisma, {
      ...move,
      id: db.newId(),
      kind: 'walk_up',
      from: 'store',
      to: 'unnamed',
      sticks: 2,
    })
    await moveSticks(db.prisma, {
      ...move,
      id: db.newId(),
      kind: 'destroy',
      from: 'store',
      to: 'destroyed',
      sticks: 3,
    })
    await moveSticks(db.prisma, {
      ...move,
      id: db.newId(),
      kind: 'lose',
      from: 'store',
      to: 'lost',
      sticks: 1,
    })
    const swapId = await aSwap()
    await aClaim(swapId, group.member.memberId, 3)
    const sums = await stickSums(db, group.member, season)
    expect(sums).toEqual({
      lots: 3,
      cut: 37,
      free: 14,
      held: 7,
      promised: 6,
      withMembers: 4,
      walkedUp: 2,
      inPost: 0,
      used: 0,
      destroyed: 3,
      lost: 1,
    })
    const { lots, cut, ...parts } = sums
    expect(lots).toBe(3)
    expect(Object.values(parts).reduce((sum, part) => sum + part, 0)).toBe(cut)
  })

  test('of another group is not counted', async () => {
    await makeLot(database.db, group)
    const elsewhere = await makeGroup(database.db, 'Elsewhere')
    const week = await getWeek(database.db, elsewhere.organiser, civilDate('2026-02-10'))
    expect(week).toMatchObject({ needs: [], dates: [], swap: null, sticks: { lots: 0, cut: 0 } })
  })
})

describe('the page', () => {
  test('knows the swap in sight, the next dates and what is one’s own', async () => {
    await aSwap({ heldOn: '2026-03-21', opens: '2026-03-01T18:00:00Z', closes: '2026-03-14T18:00:00Z' })
    const near = await aSwap()
    await makeLot(database.db, group, { sticks: 12 })
    await anAttempt(group.member, '2026-02-08')
    const week = await getWeek(database.db, group.member, civilDate('2026-02-10'))
    expect(week.swap?.id).toBe(near)
    expect(week.dates.map(({ kind, on }) => `${kind} ${on}`)).toEqual([
      'claims-close 2026-02-14',
      'swap 2026-02-21',
      'claims-open 2026-03-01',
      'look 2026-03-10',
      'claims-close 2026-03-14',
      'swap 2026-03-21',
    ])
    expect(week.yours).toEqual({
      lots: 1,
      sticksCut: 12,
      trees: 2,
      attempts: 1,
      attemptsThisSeason: 1,
      nextLookOn: '2026-03-10',
    })
  })
})
