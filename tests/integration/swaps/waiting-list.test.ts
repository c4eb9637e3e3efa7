import { beforeAll, describe, expect, test } from 'vitest'
import type { Actor } from '#lib/access/actor.ts'
import { verifyLedger } from '#lib/ledger/verify-ledger.ts'
import { acceptOffer, leaveWaitingList } from '#lib/swaps/answer-offer.ts'
import { changeOffering } from '#lib/swaps/change-offering.ts'
import { claimOffering } from '#lib/swaps/claim-offering.ts'
import { finishSwap } from '#lib/swaps/finish-swap.ts'
import { giveBackClaim } from '#lib/swaps/give-back-claim.ts'
import { joinWaitingList } from '#lib/swaps/join-waiting-list.ts'
import { getOffering } from '#lib/swaps/queries.ts'
import { releaseDue } from '#lib/swaps/release-due.ts'
import { waitingOf } from '#lib/swaps/waiting-rows.ts'
import { withdrawOffering } from '#lib/swaps/withdraw-offering.ts'
import { makeGroup, type TestGroup } from '#tests/support/actors.ts'
import { testDatabase } from '#tests/support/database.ts'
import { kindOf, makeOffering, makeSwap, placeTestHold, type SwapOptions, valueIn } from './swap-world.ts'

const hourMs = 3_600_000
let hoursOn = 0
const database = testDatabase({ now: () => new Date(Date.now() + hoursOn * hourMs), max: 16 })
let group: TestGroup
let others: TestGroup
const people: Actor[] = []

beforeAll(async () => {
  const { db } = database
  group = await makeGroup(db)
  others = await makeGroup(db)
  for (let i = 0; i < 12; i++) {
    const memberId = db.newId()
    await db.prisma.member.create({
      data: {
        groupId: group.groupId,
        id: memberId,
        displayName: `Member ${i}`,
        email: `waiter-${i}@example.org`,
        joinedOn: db.now(),
      },
    })
    people.push({ groupId: group.groupId, memberId, role: 'member' })
  }
})

const person = (at: number): Actor => {
  const actor = people[at]
  if (!actor) throw new Error(`There is no person ${at}`)
  return actor
}
const key = () => database.db.newId()
const claim = (actor: Actor, offeringId: string, shares = 1) =>
  claimOffering(database.db, actor, {
    key: key(),
    offeringId,
    shares,
    memberId: undefined,
    purpose: undefined,
  })
const join = (actor: Actor, offeringId: string, shares = 1, memberId?: string) =>
  joinWaitingList(database.db, actor, { key: key(), offeringId, shares, memberId, purpose: undefined })
const giveBack = (actor: Actor, claimId: string) =>
  giveBackClaim(database.db, actor, { key: key(), claimId, reason: undefined })
const accept = (actor: Actor, waitingId: string) => acceptOffer(database.db, actor, { key: key(), waitingId })
const leave = (actor: Actor, waitingId: string) =>
  leaveWaitingList(database.db, actor, { key: key(), waitingId })

/** A lot of which all shares are claimed by the group's member, and the claim. */
async function allClaimed(shares = 1, options: SwapOptions = {}) {
  const { db } = database
  hoursOn = 0
  const swapId = await makeSwap(db, group, { closes: 30, ...options })
  const lot = await makeOffering(db, group, swapId, { shares })
  const { claimId } = valueIn(await claim(group.member, lot.offeringId, shares))
  return { swapId, ...lot, claimId }
}

const statusOf = async (waitingId: string) =>
  database.db.prisma.waiting.findFirstOrThrow({ where: { id: waitingId } })
const faults = () => verifyLedger(database.db, group.groupId)

describe('waiting for a lot that is all claimed', () => {
  test('what is given back is offered to the first in line, kept for them, and becomes their claim', async () => {
    const { db } = database
    const { swapId, offeringId, claimId } = await allClaimed()
    const first = valueIn(await join(person(0), offeringId))
    const second = valueIn(await join(person(1), offeringId))
    expect([first.place, second.place]).toEqual([1, 2])
    valueIn(await giveBack(group.member, claimId))
    expect(await statusOf(first.waitingId)).toMatchObject({ status: 'offered', offeredShares: 1 })
    expect(await statusOf(second.waitingId)).toMatchObject({ status: 'waiting' })
    expect((await getOffering(db, person(2), swapId, offeringId))?.row).toMatchObject({
      sharesLeft: 0,
      waiting: 2,
    })
    expect(await claim(person(2), offeringId)).toEqual({
      ok: false,
      refusal: { kind: 'not-enough-shares', left: 0 },
    })
    expect(kindOf(await accept(person(1), second.waitingId))).toBe('place-is-gone')
    valueIn(await accept(person(0), first.waitingId))
    const mine = await db.prisma.claim.findFirstOrThrow({
      where: { offeringId, memberId: person(0).memberId },
    })
    expect(mine).toMatchObject({ status: 'promised', shares: 1 })
    expect(await statusOf(first.waitingId)).toMatchObject({ status: 'accepted', claimId: mine.id })
    expect(await faults()).toEqual([])
  })

  test('an offer that is declined, or not answered in time, goes to the next', async () => {
    const { offeringId, claimId } = await allClaimed()
    const line = []
    for (const at of [0, 1, 2]) line.push(valueIn(await join(person(at), offeringId)).waitingId)
    const [first = '', second = '', third = ''] = line
    valueIn(await giveBack(group.member, claimId))
    expect(valueIn(await leave(person(0), first))).toMatchObject({ wasOffered: true })
    expect(await statusOf(first)).toMatchObject({ status: 'declined' })
    expect(await statusOf(second)).toMatchObject({ status: 'offered' })
    hoursOn = 25
    expect(await accept(person(1), second)).toMatchObject({
      refusal: { kind: 'place-is-gone', status: 'expired' },
    })
    // Whoever touches the lot finds the offer lapsed and the next in line asked, however the touch ends.
    expect(await claim(person(5), offeringId)).toMatchObject({
      refusal: { kind: 'not-enough-shares', left: 0 },
    })
    expect(await releaseDue(database.db, 'https://example.org')).toMatchObject({ offers: 1 })
    expect(await statusOf(second)).toMatchObject({ status: 'expired' })
    expect(await statusOf(third)).toMatchObject({ status: 'offered' })
    valueIn(await accept(person(2), third))
    expect(await faults()).toEqual([])
  })

  test('somebody at their limit is passed over, keeps their place, and is asked once there is room', async () => {
    const { db } = database
    const { swapId, offeringId, claimId } = await allClaimed(1, { capPerMember: 1 })
    const full = valueIn(await join(person(0), offeringId))
    const next = valueIn(await join(person(1), offeringId))
    const elsewhere = await makeOffering(db, group, swapId)
    const held = valueIn(await claim(person(0), elsewhere.offeringId))
    valueIn(await giveBack(group.member, claimId))
    expect(await statusOf(full.waitingId)).toMatchObject({ status: 'waiting' })
    expect(await statusOf(next.waitingId)).toMatchObject({ status: 'offered' })
    valueIn(await leave(person(1), next.waitingId))
    expect(await statusOf(full.waitingId)).toMatchObject({ status: 'waiting' })
    // Free for others while the only one who waits may not have it.
    expect((await getOffering(db, person(3), swapId, offeringId))?.row.sharesLeft).toBe(1)
    valueIn(await giveBack(person(0), held.claimId))
    expect(await releaseDue(db, 'https://example.org')).toMatchObject({ offers: 1 })
    expect(await statusOf(full.waitingId)).toMatchObject({ status: 'offered' })
    expect(await faults()).toEqual([])
  })

  test('limits count again when an offer is accepted', async () => {
    const { db } = database
    const { swapId, offeringId, claimId } = await allClaimed(1, { capPerMember: 1 })
    const place = valueIn(await join(person(0), offeringId))
    valueIn(await giveBack(group.member, claimId))
    const elsewhere = await makeOffering(db, group, swapId)
    valueIn(await claim(person(0), elsewhere.offeringId))
    expect(await accept(person(0), place.waitingId)).toEqual({
      ok: false,
      refusal: { kind: 'cap-per-member', cap: 1, held: 1 },
    })
    expect(await statusOf(place.waitingId)).toMatchObject({ status: 'offered' })
    expect(await faults()).toEqual([])
  })

  test('whoever asks for more than comes free is offered what there is', async () => {
    const { offeringId, claimId } = await allClaimed(2)
    const place = valueIn(await join(person(0), offeringId, 2))
    const behind = valueIn(await join(person(1), offeringId, 2))
    valueIn(await giveBack(group.member, claimId))
    expect(await statusOf(place.waitingId)).toMatchObject({ status: 'offered', offeredShares: 2 })
    expect(await statusOf(behind.waitingId)).toMatchObject({ status: 'waiting' })
    expect(valueIn(await accept(person(0), place.waitingId))).toMatchObject({ sticks: 4 })
    expect(await faults()).toEqual([])
  })

  test('more shares on the table go to the line first', async () => {
    const { db } = database
    const swapId = await makeSwap(db, group)
    const lot = await makeOffering(db, group, swapId, { shares: 1, sticks: 8 })
    valueIn(await claim(group.member, lot.offeringId))
    const place = valueIn(await join(person(0), lot.offeringId))
    valueIn(
      await changeOffering(db, group.organiser, { offeringId: lot.offeringId, shares: 3, note: undefined }),
    )
    expect(await statusOf(place.waitingId)).toMatchObject({ status: 'offered' })
    expect((await getOffering(db, person(4), swapId, lot.offeringId))?.row.sharesLeft).toBe(1)
    expect(
      await changeOffering(db, group.organiser, { offeringId: lot.offeringId, shares: 1, note: undefined }),
    ).toMatchObject({ refusal: { kind: 'fewer-than-claimed', claimed: 2 } })
    expect(await faults()).toEqual([])
  })

  test('may be for somebody without an account, by a helper, and is nobody else’s to answer', async () => {
    const { offeringId, claimId } = await allClaimed()
    const { memberId } = person(6)
    expect(kindOf(await join(person(1), offeringId, 1, memberId))).toBe('not-allowed')
    const place = valueIn(await join(group.helper, offeringId, 1, memberId))
    expect(await statusOf(place.waitingId)).toMatchObject({ memberId, recordedById: group.helper.memberId })
    valueIn(await giveBack(group.member, claimId))
    for (const stranger of [person(1), others.organiser]) {
      expect(kindOf(await accept(stranger, place.waitingId))).toBe('not-found')
      expect(kindOf(await leave(stranger, place.waitingId))).toBe('not-found')
    }
    expect(kindOf(await join(others.member, offeringId))).toBe('not-found')
    expect(kindOf(await accept(group.helper, place.waitingId))).toBe('accepted')
  })

  test('is refused while shares are free, twice, with a claim, on hold, and when claims are closed', async () => {
    const { db } = database
    const open = await makeOffering(db, group, await makeSwap(db, group), { shares: 3 })
    expect(await join(person(0), open.offeringId)).toEqual({
      ok: false,
      refusal: { kind: 'shares-are-free', left: 3 },
    })
    const { offeringId, lotId } = await allClaimed()
    valueIn(await join(person(0), offeringId))
    expect(kindOf(await join(person(0), offeringId))).toBe('already-waiting')
    expect(kindOf(await join(group.member, offeringId))).toBe('already-claimed')
    expect(kindOf(await join(person(1), offeringId, 2))).toBe('not-enough-shares')
    await placeTestHold(db, group, { lotId })
    expect(kindOf(await join(person(1), offeringId))).toBe('held')
    const closed = await allClaimed(1, { closes: 1 })
    hoursOn = 25
    expect(kindOf(await join(person(1), closed.offeringId))).toBe('claims-not-open')
    hoursOn = 0
  })

  test('a lot on hold is offered to nobody until it is released', async () => {
    const { db } = database
    const { offeringId, lotId, claimId, swapId } = await allClaimed()
    const place = valueIn(await join(person(0), offeringId))
    const holdId = await placeTestHold(db, group, { lotId })
    valueIn(await giveBack(group.member, claimId))
    expect(await statusOf(place.waitingId)).toMatchObject({ status: 'waiting' })
    await db.prisma.healthHold.updateMany({
      where: { id: holdId },
      data: { releasedAt: db.now(), releasedById: group.steward.memberId, releaseReason: 'clean' },
    })
    await releaseDue(db, 'https://example.org')
    expect(await waitingOf(db, person(0), swapId)).toMatchObject([{ status: 'offered', place: 1 }])
  })

  test('ends with the swap, or with the lot’s place in it', async () => {
    const { db } = database
    const one = await allClaimed()
    const finished = valueIn(await join(person(0), one.offeringId))
    valueIn(await finishSwap(db, group.organiser, { swapId: one.swapId, giveBackRest: true }))
    expect(await statusOf(finished.waitingId)).toMatchObject({ status: 'closed' })
    const other = await allClaimed()
    const withdrawn = valueIn(await join(person(0), other.offeringId))
    valueIn(await giveBack(group.member, other.claimId))
    expect(await statusOf(withdrawn.waitingId)).toMatchObject({ status: 'offered' })
    valueIn(await withdrawOffering(db, group.organiser, { offeringId: other.offeringId }))
    expect(await statusOf(withdrawn.waitingId)).toMatchObject({ status: 'closed' })
    expect(kindOf(await accept(person(0), withdrawn.waitingId))).toBe('place-is-gone')
    expect(await faults()).toEqual([])
  })
})

describe('the same form sent again', () => {
  test('joins, accepts and leaves once, and answers the same', async () => {
    const { db } = database
    const { offeringId, claimId } = await allClaimed()
    const joining = { key: key(), offeringId, shares: 1, memberId: undefined, purpose: undefined }
    const joins = await Promise.all([1, 2, 3].map(() => joinWaitingList(db, person(0), joining)))
    expect(new Set(joins.map((answer) => valueIn(answer).waitingId)).size).toBe(1)
    const { waitingId } = valueIn(await joinWaitingList(db, person(0), joining))
    expect(kindOf(await joinWaitingList(db, person(0), { ...joining, shares: 9 }))).toBe('key-reused')
    valueIn(await giveBack(group.member, claimId))
    const accepting = { key: key(), waitingId }
    const accepts = await Promise.all([1, 2, 3].map(() => acceptOffer(db, person(0), accepting)))
    expect(new Set(accepts.map((answer) => valueIn(answer).claimId)).size).toBe(1)
    expect(accepts.filter((answer) => !valueIn(answer).replayed)).toHaveLength(1)
    expect(await db.prisma.claim.count({ where: { offeringId, status: 'promised' } })).toBe(1)
    const leaving = { key: key(), waitingId: valueIn(await join(person(1), offeringId)).waitingId }
    const left = valueIn(await leaveWaitingList(db, person(1), leaving))
    expect(valueIn(await leaveWaitingList(db, person(1), leaving))).toEqual({ ...left, replayed: true })
    expect(kindOf(await leave(person(1), leaving.waitingId))).toBe('place-is-gone')
    expect(await faults()).toEqual([])
  })
})

describe('everybody at once', () => {
  test('waits in one line, and it is served in the order of asking', async () => {
    const { db } = database
    const { offeringId, claimId } = await allClaimed(3)
    await Promise.all(people.map((actor) => join(actor, offeringId)))
    const line = await db.prisma.waiting.findMany({ where: { offeringId }, orderBy: { seq: 'asc' } })
    expect(line).toHaveLength(people.length)
    valueIn(await giveBack(group.member, claimId))
    let served = await db.prisma.waiting.findMany({
      where: { offeringId, status: 'offered' },
      orderBy: { seq: 'asc' },
    })
    expect(served.map(({ id }) => id)).toEqual(line.slice(0, 3).map(({ id }) => id))
    // Outsiders press at the same moment as offers are declined: none of them gets past the line.
    const answers = await Promise.all([
      ...served.map(({ id, memberId }) => leave({ groupId: group.groupId, memberId, role: 'member' }, id)),
      ...[group.helper, group.steward, group.otherMember].map((outsider) => claim(outsider, offeringId)),
    ])
    expect(answers.slice(0, 3).map(kindOf)).toEqual(['accepted', 'accepted', 'accepted'])
    expect(answers.slice(3).map(kindOf)).toEqual(Array(3).fill('not-enough-shares'))
    served = await db.prisma.waiting.findMany({
      where: { offeringId, status: 'offered' },
      orderBy: { seq: 'asc' },
    })
    expect(served.map(({ id }) => id)).toEqual(line.slice(3, 6).map(({ id }) => id))
    expect(await faults()).toEqual([])
  })
})

describe('whoever is offered shares', () => {
  test('gets one mail that says until when, even when several servers look at once', async () => {
    const { db } = database
    const { offeringId, claimId, swapId } = await allClaimed()
    valueIn(await join(person(7), offeringId))
    valueIn(await giveBack(group.member, claimId))
    await Promise.all([1, 2, 3].map(() => releaseDue(db, 'https://example.org')))
    const mails = await db.prisma.outboxMail.findMany({
      where: { toAddress: 'waiter-7@example.org', body: { contains: swapId } },
    })
    expect(mails).toHaveLength(1)
    expect(mails[0]?.body).toContain(`https://example.org/g/${group.slug}/swaps/${swapId}/yours`)
    expect(mails[0]?.body).toMatch(/until \w+ \d+ \w+ at \d\d:\d\d/)
  })
})
