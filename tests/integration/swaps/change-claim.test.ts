import { beforeAll, describe, expect, test } from 'vitest'
import { verifyLedger } from '#lib/ledger/verify-ledger.ts'
import { changeClaim } from '#lib/swaps/change-claim.ts'
import { claimOffering } from '#lib/swaps/claim-offering.ts'
import { giveBackClaim } from '#lib/swaps/give-back-claim.ts'
import { handOver } from '#lib/swaps/hand-over.ts'
import { joinWaitingList } from '#lib/swaps/join-waiting-list.ts'
import { releaseDue } from '#lib/swaps/release-due.ts'
import { releaseNoShows } from '#lib/swaps/release-no-shows.ts'
import { undoHandOver } from '#lib/swaps/undo-hand-over.ts'
import { makeGroup, type TestGroup } from '#tests/support/actors.ts'
import { testDatabase } from '#tests/support/database.ts'
import { holdingsOf, kindOf, makeOffering, makeSwap, type SwapOptions, valueIn } from './swap-world.ts'

const hourMs = 3_600_000
let hoursOn = 0
const database = testDatabase({ now: () => new Date(Date.now() + hoursOn * hourMs) })
let group: TestGroup

beforeAll(async () => {
  group = await makeGroup(database.db)
})

const key = () => database.db.newId()

async function claimed(shares = 2, options: SwapOptions = {}) {
  const { db } = database
  hoursOn = 0
  const swapId = await makeSwap(db, group, options)
  const lot = await makeOffering(db, group, swapId, { shares: 5, sticksPerShare: 2 })
  const { claimId } = valueIn(
    await claimOffering(db, group.member, {
      key: key(),
      offeringId: lot.offeringId,
      shares,
      memberId: undefined,
      purpose: undefined,
    }),
  )
  return { swapId, ...lot, claimId }
}

const change = (claimId: string, shares: number, actor = group.member) =>
  changeClaim(database.db, actor, { key: key(), claimId, shares })

describe('changing a claim', () => {
  test('to more or to fewer shares is one entry in the ledger, and one in the log', async () => {
    const { db } = database
    const { lotId, claimId, code } = await claimed()
    expect(valueIn(await change(claimId, 3))).toMatchObject({ sticks: 6, sharesLeft: 2 })
    expect(await holdingsOf(db, lotId)).toEqual({ cut: -10, store: 4, promised: 6 })
    expect(valueIn(await change(claimId, 1, group.helper))).toMatchObject({ sticks: 2, sharesLeft: 4 })
    expect(await holdingsOf(db, lotId)).toEqual({ cut: -10, store: 8, promised: 2 })
    const moves = await db.prisma.move.findMany({ where: { claimId }, orderBy: { seq: 'asc' } })
    expect(moves.map(({ kind, sticks }) => [kind, sticks])).toEqual([
      ['promise', 4],
      ['promise', 2],
      ['release', 4],
    ])
    const log = await db.prisma.auditEntry.findMany({
      where: { subject: `lot:${code}` },
      orderBy: { id: 'asc' },
    })
    expect(log.map(({ action, actorId, onBehalfOf }) => [action, actorId, onBehalfOf])).toEqual([
      ['claim-shares', group.member.memberId, null],
      ['change-claim', group.member.memberId, null],
      ['change-claim', group.helper.memberId, group.member.memberId],
    ])
    expect(await verifyLedger(db)).toEqual([])
  })

  test('says how many are left, and keeps to the limits', async () => {
    const { claimId } = await claimed()
    expect(await change(claimId, 9)).toEqual({ ok: false, refusal: { kind: 'not-enough-shares', left: 3 } })
    const capped = await claimed(2, { capPerMember: 3 })
    expect(await change(capped.claimId, 4)).toEqual({
      ok: false,
      refusal: { kind: 'cap-per-member', cap: 3, held: 2 },
    })
    const variety = await claimed(2, { capPerVariety: 2 })
    expect(await change(variety.claimId, 3)).toMatchObject({
      refusal: { kind: 'cap-per-variety', cap: 2, held: 2 },
    })
    expect(kindOf(await change(variety.claimId, 2))).toBe('wrong-state')
    expect(await verifyLedger(database.db)).toEqual([])
  })

  test('to more is for open claims, to fewer always; to nobody else’s', async () => {
    const { claimId } = await claimed(2, { closes: 1 })
    expect(kindOf(await change(claimId, 3, group.otherMember))).toBe('not-found')
    hoursOn = 30
    expect(kindOf(await change(claimId, 3))).toBe('claims-not-open')
    expect(kindOf(await change(claimId, 1))).toBe('accepted')
    hoursOn = 0
  })

  test('a second click changes nothing more, also at the same moment', async () => {
    const { db } = database
    const { claimId, lotId } = await claimed()
    const input = { key: key(), claimId, shares: 4 }
    const answers = await Promise.all([1, 2, 3, 4].map(() => changeClaim(db, group.member, input)))
    expect(answers.filter((answer) => !valueIn(answer).replayed)).toHaveLength(1)
    expect(await holdingsOf(db, lotId)).toMatchObject({ promised: 8 })
    expect(kindOf(await changeClaim(db, group.member, { ...input, shares: 3 }))).toBe('key-reused')
    expect(await verifyLedger(db)).toEqual([])
  })

  test('two members who want the last share at once: one gets it', async () => {
    const { db } = database
    const { offeringId, claimId } = await claimed(2)
    const other = valueIn(
      await claimOffering(db, group.otherMember, {
        key: key(),
        offeringId,
        shares: 2,
        memberId: undefined,
        purpose: undefined,
      }),
    )
    const answers = await Promise.all([change(claimId, 3), change(other.claimId, 3, group.otherMember)])
    expect(answers.map(kindOf).sort()).toEqual(['accepted', 'not-enough-shares'])
    expect(await verifyLedger(db)).toEqual([])
  })
})

describe('sticks that nobody fetched', () => {
  const withTime = async (hours: number, shares = 2) => {
    const made = await claimed(shares, { closes: 1 })
    await database.db.prisma.swap.updateMany({
      where: { id: made.swapId },
      data: { noShowAt: new Date(Date.now() + hours * hourMs) },
    })
    return made
  }
  const release = (swapId: string, actor = group.organiser, once = key()) =>
    releaseNoShows(database.db, actor, { key: once, swapId })

  test('go back from the stated time on, each with its entry and its reason', async () => {
    const { db } = database
    const { swapId, claimId, lotId } = await withTime(30)
    expect(await release(swapId)).toMatchObject({
      refusal: { kind: 'no-shows-not-due', at: expect.any(String) },
    })
    expect(kindOf(await release(swapId, group.helper))).toBe('not-allowed')
    hoursOn = 31
    const once = key()
    const answer = valueIn(await release(swapId, group.organiser, once))
    expect(answer).toMatchObject({ claims: 1, sticks: 4, replayed: false })
    expect(valueIn(await release(swapId, group.organiser, once))).toEqual({ ...answer, replayed: true })
    expect(await holdingsOf(db, lotId)).toEqual({ cut: -10, store: 10 })
    expect(await db.prisma.move.findFirst({ where: { claimId, kind: 'release' } })).toMatchObject({
      recordedById: group.organiser.memberId,
      onBehalfOfId: group.member.memberId,
      reason: 'not fetched in time',
    })
    expect(await db.prisma.auditEntry.count({ where: { action: 'release-no-show' } })).toBe(1)
    hoursOn = 0
    expect(await verifyLedger(db)).toEqual([])
  })

  test('are refused without a stated time, and where the swap is none of ours', async () => {
    const { swapId } = await claimed()
    expect(await release(swapId)).toMatchObject({ refusal: { kind: 'no-shows-not-due', at: null } })
    expect(kindOf(await release(swapId, (await makeGroup(database.db)).organiser))).toBe('not-found')
  })

  test('go back by themselves, once: what is promised again afterwards stays', async () => {
    const { db } = database
    const { swapId, claimId } = await withTime(30)
    const fetched = valueIn(await handOver(db, group.helper, { key: key(), claimId, sticks: 4 }))
    hoursOn = 31
    expect(await releaseDue(db, 'https://example.org')).toMatchObject({ noShows: 0 })
    valueIn(
      await undoHandOver(db, group.helper, { key: key(), claimId: fetched.claimId, reason: 'wrong bag' }),
    )
    expect(await releaseDue(db, 'https://example.org')).toMatchObject({ noShows: 0 })
    expect(await db.prisma.claim.count({ where: { swapId, status: 'promised' } })).toBe(1)
    hoursOn = 0
  })

  test('are offered to whoever waits', async () => {
    const { db } = database
    const { offeringId } = await withTime(30, 5)
    const place = valueIn(
      await joinWaitingList(db, group.otherMember, {
        key: key(),
        offeringId,
        shares: 2,
        memberId: undefined,
        purpose: undefined,
      }),
    )
    hoursOn = 31
    const due = await Promise.all([1, 2, 3].map(() => releaseDue(db, 'https://example.org')))
    expect(due.reduce((sum, { noShows }) => sum + noShows, 0)).toBe(1)
    expect(await db.prisma.waiting.findFirst({ where: { id: place.waitingId } })).toMatchObject({
      status: 'offered',
      offeredShares: 2,
    })
    hoursOn = 0
    expect(await verifyLedger(db)).toEqual([])
  })
})

describe('the log', () => {
  test('has who did what with a claim, and for whom', async () => {
    const { db } = database
    const { claimId, code, offeringId } = await claimed()
    valueIn(await handOver(db, group.helper, { key: key(), claimId, sticks: 3 }))
    valueIn(await undoHandOver(db, group.helper, { key: key(), claimId, reason: 'wrong bag' }))
    valueIn(await giveBackClaim(db, group.member, { key: key(), claimId, reason: 'no stock' }))
    const asked = { offeringId, shares: 1, purpose: undefined, memberId: group.otherMember.memberId }
    valueIn(await claimOffering(db, group.helper, { ...asked, key: key() }))
    const log = await db.prisma.auditEntry.findMany({
      where: { subject: `lot:${code}` },
      orderBy: { at: 'asc' },
    })
    const { member, otherMember, helper } = group
    expect(log.map(({ action, actorId, onBehalfOf }) => [action, actorId, onBehalfOf])).toEqual([
      ['claim-shares', member.memberId, null],
      ['hand-over', helper.memberId, member.memberId],
      ['undo-hand-over', helper.memberId, member.memberId],
      ['give-back-claim', member.memberId, null],
      ['claim-shares', helper.memberId, otherMember.memberId],
    ])
    expect(log[3]?.detail).toMatchObject({ claimId, reason: 'no stock' })
  })
})

describe('one claim', () => {
  test('is one round trip to the database', async () => {
    const { db } = database
    const { offeringId } = await claimed()
    const client = await db.pool.connect()
    const proto = Object.getPrototypeOf(client) as { query: (...args: unknown[]) => unknown }
    client.release()
    const sent: unknown[] = []
    const { query } = proto
    proto.query = function (this: unknown, ...args: unknown[]) {
      sent.push(args[0])
      return query.apply(this, args)
    }
    try {
      valueIn(
        await claimOffering(db, group.otherMember, {
          key: key(),
          offeringId,
          shares: 1,
          memberId: undefined,
          purpose: undefined,
        }),
      )
    } finally {
      proto.query = query
    }
    expect(sent).toMatchObject([{ name: 'claim-shares' }])
  })
})
