import { beforeAll, describe, expect, test } from 'vitest'
import { moveSticks } from '#lib/ledger/move-sticks.ts'
import { verifyLedger } from '#lib/ledger/verify-ledger.ts'
import { claimOffering } from '#lib/swaps/claim-offering.ts'
import { giveBackClaim } from '#lib/swaps/give-back-claim.ts'
import { handOver } from '#lib/swaps/hand-over.ts'
import { ClaimOfferingInput, GiveBackClaimInput } from '#lib/swaps/input.ts'
import { claimsOf, getOffering } from '#lib/swaps/queries.ts'
import { makeGroup, type TestGroup } from '#tests/support/actors.ts'
import { testDatabase } from '#tests/support/database.ts'
import { holdingsOf, kindOf, makeOffering, makeSwap, placeTestHold, valueIn } from './swap-world.ts'

const database = testDatabase()
let group: TestGroup
let others: TestGroup

beforeAll(async () => {
  group = await makeGroup(database.db)
  others = await makeGroup(database.db)
})

const claiming = (offeringId: string, changes: Record<string, string> = {}) =>
  ClaimOfferingInput.parse({
    key: database.db.newId(),
    offeringId,
    memberId: '',
    shares: '1',
    purpose: '',
    ...changes,
  })

const givingBack = (claimId: string, changes: Record<string, string> = {}) =>
  GiveBackClaimInput.parse({ key: database.db.newId(), claimId, reason: '', ...changes })

describe('claiming', () => {
  test('promises the sticks, and says what is left', async () => {
    const { db } = database
    const swapId = await makeSwap(db, group)
    const lot = await makeOffering(db, group, swapId, { shares: 5, sticksPerShare: 2 })
    const input = claiming(lot.offeringId, { shares: '2', purpose: 'the old crab by the gate' })
    const claim = valueIn(await claimOffering(db, group.member, input))
    expect(claim).toMatchObject({ sticks: 4, sharesLeft: 3, replayed: false })
    expect(await holdingsOf(db, lot.lotId)).toEqual({ cut: -10, store: 6, promised: 4 })
    expect(await claimsOf(db, group.member, swapId)).toMatchObject({
      claims: [
        { claimId: claim.claimId, sticks: 4, purpose: 'the old crab by the gate', status: 'promised' },
      ],
      limits: { held: 2, cap: 10, sticks: 4, lots: 1, ofVariety: { [lot.varietyId]: 2 } },
    })
    expect(await verifyLedger(db, group.groupId)).toEqual([])
  })

  test('a second click claims nothing more and answers the same', async () => {
    const { db } = database
    const lot = await makeOffering(db, group, await makeSwap(db, group))
    const input = claiming(lot.offeringId)
    const first = valueIn(await claimOffering(db, group.member, input))
    expect(valueIn(await claimOffering(db, group.member, input))).toEqual({ ...first, replayed: true })
    expect(kindOf(await claimOffering(db, group.member, { ...input, shares: 2 }))).toBe('key-reused')
    expect(await holdingsOf(db, lot.lotId)).toMatchObject({ promised: 2 })
  })

  test('is for oneself, or for somebody by a helper, and the ledger knows both', async () => {
    const { db } = database
    const lot = await makeOffering(db, group, await makeSwap(db, group))
    const forOther = claiming(lot.offeringId, { memberId: group.otherMember.memberId })
    expect(await claimOffering(db, group.member, forOther)).toMatchObject({
      refusal: { kind: 'not-allowed', right: 'act-for-others' },
    })
    const { claimId } = valueIn(await claimOffering(db, group.helper, forOther))
    const move = await db.prisma.move.findFirstOrThrow({ where: { claimId } })
    expect(move).toMatchObject({
      recordedById: group.helper.memberId,
      onBehalfOfId: group.otherMember.memberId,
    })
  })

  test('works for a person without an account', async () => {
    const { db } = database
    const memberId = db.newId()
    await db.prisma.member.create({
      data: { groupId: group.groupId, id: memberId, displayName: 'Nan Noaccount', joinedOn: db.now() },
    })
    const swapId = await makeSwap(db, group)
    const lot = await makeOffering(db, group, swapId)
    valueIn(await claimOffering(db, group.helper, claiming(lot.offeringId, { memberId })))
    expect((await claimsOf(db, group.helper, swapId, memberId))?.claims).toHaveLength(1)
  })

  test('says how many are left when it asks for too many', async () => {
    const { db } = database
    const lot = await makeOffering(db, group, await makeSwap(db, group), { shares: 3 })
    valueIn(await claimOffering(db, group.otherMember, claiming(lot.offeringId, { shares: '2' })))
    expect(await claimOffering(db, group.member, claiming(lot.offeringId, { shares: '2' }))).toEqual({
      ok: false,
      refusal: { kind: 'not-enough-shares', left: 1 },
    })
  })

  test('counts in shares what is left of a lot that has lost sticks since', async () => {
    const { db } = database
    const swapId = await makeSwap(db, group)
    const lot = await makeOffering(db, group, swapId, { shares: 5, sticksPerShare: 3 })
    await moveSticks(db.prisma, {
      groupId: group.groupId,
      id: db.newId(),
      lotId: lot.lotId,
      kind: 'lose',
      from: 'store',
      to: 'lost',
      sticks: 10,
      happenedAt: db.now(),
      recordedBy: group.steward.memberId,
      reason: 'mould',
    })
    expect((await getOffering(db, group.member, swapId, lot.offeringId))?.row.sharesLeft).toBe(1)
    expect(await claimOffering(db, group.member, claiming(lot.offeringId, { shares: '2' }))).toEqual({
      ok: false,
      refusal: { kind: 'not-enough-shares', left: 1 },
    })
    expect(kindOf(await claimOffering(db, group.member, claiming(lot.offeringId)))).toBe('accepted')
  })

  test('keeps to what a member may hold of the swap and of a variety, over several lots', async () => {
    const { db } = database
    const swapId = await makeSwap(db, group, { capPerMember: 3, capPerVariety: 2 })
    const [one, two] = [await makeOffering(db, group, swapId), await makeOffering(db, group, swapId)]
    // A second lot of the first one's variety.
    const same = await makeOffering(db, group, swapId)
    await db.prisma.limb.update({
      where: { groupId_id: { groupId: group.groupId, id: same.limbId } },
      data: { varietyId: one.varietyId },
    })
    valueIn(await claimOffering(db, group.member, claiming(one.offeringId)))
    expect(await claimOffering(db, group.member, claiming(same.offeringId, { shares: '2' }))).toEqual({
      ok: false,
      refusal: { kind: 'cap-per-variety', cap: 2, held: 1 },
    })
    valueIn(await claimOffering(db, group.member, claiming(same.offeringId)))
    expect(await claimOffering(db, group.member, claiming(two.offeringId, { shares: '2' }))).toEqual({
      ok: false,
      refusal: { kind: 'cap-per-member', cap: 3, held: 2 },
    })
    valueIn(await claimOffering(db, group.member, claiming(two.offeringId)))
    expect(kindOf(await claimOffering(db, group.otherMember, claiming(one.offeringId)))).toBe('accepted')
    expect(await verifyLedger(db, group.groupId)).toEqual([])
  })

  test('a variety that is renamed later frees the limit that it took', async () => {
    const { db } = database
    const swapId = await makeSwap(db, group, { capPerVariety: 1 })
    const [one, other] = [await makeOffering(db, group, swapId), await makeOffering(db, group, swapId)]
    const { claimId } = valueIn(await claimOffering(db, group.member, claiming(one.offeringId)))
    await db.prisma.limb.update({
      where: { groupId_id: { groupId: group.groupId, id: one.limbId } },
      data: { varietyId: other.varietyId },
    })
    valueIn(await giveBackClaim(db, group.member, givingBack(claimId)))
    expect((await claimsOf(db, group.member, swapId))?.limits.held).toBe(0)
    expect(kindOf(await claimOffering(db, group.member, claiming(one.offeringId)))).toBe('accepted')
    expect(await verifyLedger(db, group.groupId)).toEqual([])
  })

  test('is refused while claims are not open, on hold, twice, and in another group', async () => {
    const { db } = database
    const later = await makeOffering(db, group, await makeSwap(db, group, { opens: 1, closes: 2 }))
    expect(await claimOffering(db, group.member, claiming(later.offeringId))).toMatchObject({
      refusal: { kind: 'claims-not-open', status: 'open' },
    })
    const over = await makeOffering(db, group, await makeSwap(db, group, { opens: -2, closes: -1 }))
    expect(kindOf(await claimOffering(db, group.member, claiming(over.offeringId)))).toBe('claims-not-open')
    const open = await makeSwap(db, group)
    const held = await makeOffering(db, group, open)
    await placeTestHold(db, group, { limbId: held.limbId })
    expect(await claimOffering(db, group.member, claiming(held.offeringId))).toMatchObject({
      refusal: { kind: 'held', reason: 'canker on the tree' },
    })
    const lot = await makeOffering(db, group, open)
    valueIn(await claimOffering(db, group.member, claiming(lot.offeringId)))
    expect(kindOf(await claimOffering(db, group.member, claiming(lot.offeringId)))).toBe('already-claimed')
    expect(kindOf(await claimOffering(db, others.member, claiming(lot.offeringId)))).toBe('not-found')
    const stranger = claiming(lot.offeringId, { memberId: others.member.memberId })
    expect(kindOf(await claimOffering(db, group.helper, stranger))).toBe('not-found')
  })

  test('asks for a number of shares in words', () => {
    const parsed = ClaimOfferingInput.safeParse({
      key: database.db.newId(),
      offeringId: database.db.newId(),
      shares: 'two',
    })
    expect(parsed.error?.issues.map(({ message }) => message)).toEqual(['Say how many shares: at least 1'])
  })
})

describe('giving a claim back', () => {
  const claimed = async (by = group.member) => {
    const { db } = database
    const swapId = await makeSwap(db, group, { capPerMember: 1 })
    const lot = await makeOffering(db, group, swapId, { shares: 1 })
    return { swapId, ...lot, ...valueIn(await claimOffering(db, by, claiming(lot.offeringId))) }
  }

  test('frees its sticks and its share, for anybody', async () => {
    const { db } = database
    const { claimId, lotId, offeringId, swapId } = await claimed()
    expect(kindOf(await claimOffering(db, group.otherMember, claiming(offeringId)))).toBe('not-enough-shares')
    const given = valueIn(await giveBackClaim(db, group.member, givingBack(claimId, { reason: 'no stock' })))
    expect(given).toMatchObject({ claimId, sticks: 2 })
    expect(await holdingsOf(db, lotId)).toEqual({ cut: -2, store: 2 })
    expect((await claimsOf(db, group.member, swapId))?.claims).toMatchObject([
      { status: 'cancelled', givenBackBecause: 'no stock' },
    ])
    expect(kindOf(await claimOffering(db, group.otherMember, claiming(offeringId)))).toBe('accepted')
    expect(await verifyLedger(db, group.groupId)).toEqual([])
  })

  test('happens once', async () => {
    const { db } = database
    const { claimId } = await claimed()
    const input = givingBack(claimId)
    const first = valueIn(await giveBackClaim(db, group.member, input))
    expect(valueIn(await giveBackClaim(db, group.member, input))).toEqual({ ...first, replayed: true })
    expect(kindOf(await giveBackClaim(db, group.member, givingBack(claimId)))).toBe('wrong-state')
  })

  test('is for the person, or a helper for them; another’s claim is as good as not there', async () => {
    const { db } = database
    const { claimId } = await claimed()
    expect(kindOf(await giveBackClaim(db, group.otherMember, givingBack(claimId)))).toBe('not-found')
    expect(kindOf(await giveBackClaim(db, others.organiser, givingBack(claimId)))).toBe('not-found')
    expect(kindOf(await giveBackClaim(db, group.helper, givingBack(claimId)))).toBe('accepted')
  })

  test('is not for sticks that were handed over', async () => {
    const { db } = database
    const { claimId } = await claimed()
    valueIn(await handOver(db, group.helper, { key: db.newId(), claimId, sticks: 2 }))
    expect(kindOf(await giveBackClaim(db, group.member, givingBack(claimId)))).toBe('wrong-state')
  })
})
