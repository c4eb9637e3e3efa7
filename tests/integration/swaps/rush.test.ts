import { beforeAll, describe, expect, test } from 'vitest'
import type { Actor } from '#lib/access/actor.ts'
import { seededRandom } from '#lib/kernel/seeded-random.ts'
import { verifyLedger } from '#lib/ledger/verify-ledger.ts'
import { claimOffering } from '#lib/swaps/claim-offering.ts'
import { giveBackClaim } from '#lib/swaps/give-back-claim.ts'
import { handOver } from '#lib/swaps/hand-over.ts'
import { makeGroup, type TestGroup } from '#tests/support/actors.ts'
import { testDatabase } from '#tests/support/database.ts'
import { holdingsOf, kindOf, makeOffering, makeSwap, type TestOffering, valueIn } from './swap-world.ts'

const hands = 24
const database = testDatabase({ max: hands })
let group: TestGroup
const members: Actor[] = []

beforeAll(async () => {
  const { db } = database
  group = await makeGroup(db)
  for (let i = 0; i < 40; i++) {
    const memberId = db.newId()
    members.push({ groupId: group.groupId, memberId, role: 'member' })
  }
  await db.prisma.member.createMany({
    data: members.map(({ groupId, memberId }, i) => ({
      groupId,
      id: memberId,
      displayName: `Member ${i}`,
      joinedOn: db.now(),
    })),
  })
})

const claim = (actor: Actor, offeringId: string, shares = 1, key = database.db.newId()) =>
  claimOffering(database.db, actor, { key, offeringId, memberId: undefined, shares, purpose: undefined })

/** Does all the work, with as many hands at once as there are connections. */
async function withManyHands<Item, Done>(
  items: readonly Item[],
  work: (item: Item) => Promise<Done>,
): Promise<Done[]> {
  const done: Done[] = []
  const waiting = [...items]
  const hand = async () => {
    for (let item = waiting.shift(); item !== undefined; item = waiting.shift()) done.push(await work(item))
  }
  await Promise.all(Array.from({ length: hands }, hand))
  return done
}

const tally = (kinds: readonly string[]): Record<string, number> => {
  const counts: Record<string, number> = {}
  for (const kind of kinds) counts[kind] = (counts[kind] ?? 0) + 1
  return counts
}

describe('many members at once', () => {
  test('claim the last shares of one lot: as many get one as there are', async () => {
    const { db } = database
    const swapId = await makeSwap(db, group)
    const lot = await makeOffering(db, group, swapId, { shares: 7, sticksPerShare: 2 })
    const answers = await withManyHands(members, (member) => claim(member, lot.offeringId))
    expect(tally(answers.map(kindOf))).toEqual({ accepted: 7, 'not-enough-shares': 33 })
    expect(
      answers
        .flatMap((answer) => (answer.ok ? [] : [answer.refusal]))
        .every((refusal) => 'left' in refusal && refusal.left === 0),
    ).toBe(true)
    expect(await holdingsOf(db, lot.lotId)).toEqual({ cut: -14, promised: 14 })
    expect(await verifyLedger(db)).toEqual([])
  })

  test('claim what does not divide evenly: what is left over is said', async () => {
    const { db } = database
    const lot = await makeOffering(db, group, await makeSwap(db, group), { shares: 10, sticksPerShare: 1 })
    const answers = await withManyHands(members, (member) => claim(member, lot.offeringId, 3))
    expect(tally(answers.map(kindOf))).toEqual({ accepted: 3, 'not-enough-shares': 37 })
    for (const answer of answers) {
      if (!answer.ok) expect(answer.refusal).toEqual({ kind: 'not-enough-shares', left: 1 })
    }
    expect(await verifyLedger(db)).toEqual([])
  })

  test('claim on all lots at once: nothing is promised twice, and every limit holds', async () => {
    const { db } = database
    const swapId = await makeSwap(db, group, { capPerMember: 4, capPerVariety: 2 })
    const lots: TestOffering[] = []
    for (let i = 0; i < 8; i++)
      lots.push(await makeOffering(db, group, swapId, { shares: 9, sticksPerShare: 2 }))
    // Two of the lots are of one variety.
    const [first, second] = lots
    if (!first || !second) throw new Error('Eight lots were made')
    await db.prisma.limb.update({
      where: { groupId_id: { groupId: group.groupId, id: second.limbId } },
      data: { varietyId: first.varietyId },
    })
    const random = seededRandom(20270221)
    const wishes = members.flatMap((member) =>
      random.shuffle(lots).map((lot) => ({ member, lot, shares: random.integer(1, 2) })),
    )
    const answers = await withManyHands(random.shuffle(wishes), async ({ member, lot, shares }) => {
      const answer = await claim(member, lot.offeringId, shares)
      return { answer, kind: kindOf(answer) }
    })
    const kinds = tally(answers.map(({ kind }) => kind))
    expect(Object.keys(kinds).sort()).toEqual(
      expect.arrayContaining(['accepted', 'cap-per-member', 'not-enough-shares']),
    )
    expect(
      Object.keys(kinds).every((kind) =>
        ['accepted', 'cap-per-member', 'cap-per-variety', 'not-enough-shares'].includes(kind),
      ),
    ).toBe(true)

    const claims = await db.prisma.claim.findMany({ where: { swapId } })
    expect(claims).toHaveLength(kinds['accepted'] ?? 0)
    for (const lot of lots) {
      const shares = claims.filter(({ lotId }) => lotId === lot.lotId).reduce((sum, c) => sum + c.shares, 0)
      expect(shares).toBeLessThanOrEqual(9)
      expect(await holdingsOf(db, lot.lotId)).toMatchObject(shares ? { promised: shares * 2 } : {})
    }
    for (const { memberId } of members) {
      const own = claims.filter((c) => c.memberId === memberId)
      expect(own.reduce((sum, c) => sum + c.shares, 0)).toBeLessThanOrEqual(4)
      const byVariety = tally(own.flatMap((c) => Array.from({ length: c.shares }, () => c.varietyId)))
      for (const count of Object.values(byVariety)) expect(count).toBeLessThanOrEqual(2)
    }
    // Nobody was turned away from a lot that had what they asked for and within their limits.
    for (const { answer } of answers) {
      if (answer.ok || answer.refusal.kind !== 'not-enough-shares') continue
      expect(answer.refusal.left).toBeLessThan(2)
    }
    expect(await verifyLedger(db)).toEqual([])
  })

  test('claim, give back and are handed sticks at once: every stick has one place', async () => {
    const { db } = database
    const swapId = await makeSwap(db, group, { capPerMember: 3, capPerVariety: 3 })
    const lots: TestOffering[] = []
    for (let i = 0; i < 4; i++)
      lots.push(await makeOffering(db, group, swapId, { shares: 12, sticksPerShare: 2 }))
    const random = seededRandom(7)
    await withManyHands(members, async (member) => {
      for (const lot of random.shuffle(lots)) {
        const answer = await claim(member, lot.offeringId)
        if (!answer.ok) {
          expect(['not-enough-shares', 'cap-per-member']).toContain(answer.refusal.kind)
          continue
        }
        const change = { key: db.newId(), claimId: answer.value.claimId }
        if (random.chance(0.4)) valueIn(await giveBackClaim(db, member, { ...change, reason: undefined }))
        else if (random.chance(0.5))
          valueIn(await handOver(db, group.helper, { ...change, sticks: random.integer(1, 2) }))
      }
    })
    expect(await verifyLedger(db)).toEqual([])
    for (const lot of lots) {
      const holdings = await holdingsOf(db, lot.lotId)
      expect(Object.values(holdings).reduce((sum, sticks) => sum + sticks, 0)).toBe(0)
      expect(holdings['cut']).toBe(-24)
    }
  })
})

describe('the same form sent at once', () => {
  test('twice makes one claim, and both get its answer', async () => {
    const { db } = database
    const lot = await makeOffering(db, group, await makeSwap(db, group))
    const [member] = members
    if (!member) throw new Error('There are members')
    const key = db.newId()
    const answers = await Promise.all([
      claim(member, lot.offeringId, 2, key),
      claim(member, lot.offeringId, 2, key),
    ])
    const [one, two] = answers.map(valueIn)
    expect(one?.claimId).toBe(two?.claimId)
    expect([one?.replayed, two?.replayed].sort()).toEqual([false, true])
    expect(await db.prisma.claim.count({ where: { offeringId: lot.offeringId } })).toBe(1)
    expect(await holdingsOf(db, lot.lotId)).toMatchObject({ promised: 4 })
    expect(await verifyLedger(db)).toEqual([])
  })

  test('twenty times, by a hurried thumb, makes one claim', async () => {
    const { db } = database
    const lot = await makeOffering(db, group, await makeSwap(db, group))
    const [member] = members
    if (!member) throw new Error('There are members')
    const key = db.newId()
    const answers = await Promise.all(Array.from({ length: 20 }, () => claim(member, lot.offeringId, 1, key)))
    expect(new Set(answers.map((answer) => valueIn(answer).claimId)).size).toBe(1)
    expect(answers.filter((answer) => !valueIn(answer).replayed)).toHaveLength(1)
    expect(await db.prisma.claim.count({ where: { offeringId: lot.offeringId } })).toBe(1)
  })

  test('twice by one member without a key in common makes one claim as well', async () => {
    const { db } = database
    const lot = await makeOffering(db, group, await makeSwap(db, group))
    const [member] = members
    if (!member) throw new Error('There are members')
    const answers = await Promise.all([claim(member, lot.offeringId), claim(member, lot.offeringId)])
    expect(answers.map(kindOf).sort()).toEqual(['accepted', 'already-claimed'])
    expect(await verifyLedger(db)).toEqual([])
  })
})
