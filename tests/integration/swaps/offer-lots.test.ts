import { beforeAll, describe, expect, test } from 'vitest'
import { changeOffering } from '#lib/swaps/change-offering.ts'
import { claimOffering } from '#lib/swaps/claim-offering.ts'
import { giveBackClaim } from '#lib/swaps/give-back-claim.ts'
import { ChangeOfferingInput, ClaimOfferingInput, OfferLotsInput } from '#lib/swaps/input.ts'
import { offerLots } from '#lib/swaps/offer-lots.ts'
import { getCatalogue } from '#lib/swaps/queries.ts'
import { swapsRefusalWords } from '#lib/swaps/refusal-words.ts'
import { withdrawOffering } from '#lib/swaps/withdraw-offering.ts'
import { makeGroup, makeLot, type TestGroup, type TestLot } from '#tests/support/actors.ts'
import { testDatabase } from '#tests/support/database.ts'
import { kindOf, makeOffering, makeSwap, placeTestHold, valueIn } from './swap-world.ts'

const database = testDatabase()
let group: TestGroup
let others: TestGroup
let swapId: string

beforeAll(async () => {
  group = await makeGroup(database.db)
  others = await makeGroup(database.db)
  swapId = await makeSwap(database.db, group)
})

/** As a browser sends it: rows without a tick send no lot. */
const offering = (lots: readonly (TestLot | null)[], changes: Record<string, unknown> = {}) =>
  OfferLotsInput.parse({
    key: database.db.newId(),
    swapId,
    offers: lots.map((lot) => ({
      ...(lot ? { lotId: lot.lotId } : {}),
      sticksPerShare: '2',
      shares: '5',
      note: 'Table A, bag 3',
    })),
    overrideReason: '',
    ...changes,
  })

describe('offering lots', () => {
  test('puts the ticked ones on the table, in shares', async () => {
    const { db } = database
    const [one, two] = [await makeLot(db, group), await makeLot(db, group)]
    const { offeringIds } = valueIn(await offerLots(db, group.helper, offering([one, null, two])))
    expect(offeringIds).toHaveLength(2)
    const catalogue = await getCatalogue(db, group.member, swapId)
    const row = catalogue?.rows.find(({ lotId }) => lotId === one.lotId)
    expect(row).toMatchObject({
      code: one.code,
      shares: 5,
      sticksPerShare: 2,
      sharesLeft: 5,
      note: 'Table A, bag 3',
    })
  })

  test('happens once for one form', async () => {
    const { db } = database
    const input = offering([await makeLot(db, group)])
    const first = valueIn(await offerLots(db, group.organiser, input))
    expect(valueIn(await offerLots(db, group.organiser, input))).toEqual(first)
  })

  test('is not for a member, another group, or a swap that is over', async () => {
    const { db } = database
    const lot = await makeLot(db, group)
    expect(kindOf(await offerLots(db, group.member, offering([lot])))).toBe('not-allowed')
    expect(kindOf(await offerLots(db, others.organiser, offering([lot])))).toBe('not-found')
    const foreign = await makeLot(db, others)
    expect(kindOf(await offerLots(db, group.organiser, offering([lot, foreign])))).toBe('not-found')
    const finished = await makeSwap(db, group, { status: 'finished' })
    const late = offering([lot], { swapId: finished })
    expect(kindOf(await offerLots(db, group.organiser, late))).toBe('swap-finished')
  })

  test('names each lot that cannot be offered, with its reason, and offers none', async () => {
    const { db } = database
    const fine = await makeLot(db, group)
    const few = await makeLot(db, group, { sticks: 3, varietyName: 'Few Sticks' })
    const held = await makeLot(db, group, { varietyName: 'Held Lot' })
    await placeTestHold(db, group, { lotId: held.lotId })
    const onHeldLimb = await makeLot(db, group, { varietyName: 'Held Limb' })
    await placeTestHold(db, group, { limbId: onHeldLimb.limbId })
    const unnamed = await makeLot(db, group)
    await db.prisma.limb.update({
      where: { groupId_id: { groupId: group.groupId, id: unnamed.limbId } },
      data: { varietyId: null },
    })
    const guarded = await makeLot(db, group, { varietyName: 'Guarded' })
    await db.prisma.variety.update({
      where: { groupId_id: { groupId: group.groupId, id: guarded.varietyId } },
      data: { protection: 'in_force' },
    })
    const citrus = await makeLot(db, group, {
      taxonKey: 'citrus-limon',
      genus: 'Citrus',
      family: 'Rutaceae',
    })
    const twice = await makeOffering(db, group, swapId, { sticks: 20 })
    const refused = await offerLots(
      db,
      group.organiser,
      offering([fine, few, held, onHeldLimb, unnamed, guarded, citrus, twice]),
    )
    expect(refused).toMatchObject({
      ok: false,
      refusal: {
        kind: 'lots-unfit',
        lots: [
          { code: few.code, refusal: { kind: 'not-enough-sticks', left: 3 } },
          { code: held.code, refusal: { kind: 'held', reason: 'canker on the tree' } },
          { code: onHeldLimb.code, refusal: { kind: 'held' } },
          { code: unnamed.code, varietyName: null, refusal: { kind: 'unnamed-wood' } },
          { code: guarded.code, refusal: { kind: 'protected', variety: 'Guarded' } },
          { code: citrus.code, refusal: { kind: 'not-shared-here', genus: 'Citrus' } },
          { code: twice.code, refusal: { kind: 'already-offered' } },
        ],
      },
    })
    if (!refused.ok) {
      const words = swapsRefusalWords(refused.refusal)
      expect(words.message).toMatch(/^7 lots cannot be offered, so none was\./)
      expect(words.message).toContain('‘Few Sticks’: only 3 sticks in its store.')
      expect(words.next[0]).toBe('Change their entries, or untick them and offer the others.')
    }
    const catalogue = await getCatalogue(db, group.member, swapId)
    expect(catalogue?.rows.map(({ lotId }) => lotId)).not.toContain(fine.lotId)
  })

  test('what may be protected goes out for a reason, given by a steward', async () => {
    const { db } = database
    const guarded = await makeLot(db, group)
    await db.prisma.variety.update({
      where: { groupId_id: { groupId: group.groupId, id: guarded.varietyId } },
      data: { protection: 'unknown', introducedYear: null },
    })
    const reason = { overrideReason: 'The holder wrote to us on 3 January' }
    expect(kindOf(await offerLots(db, group.helper, offering([guarded], reason)))).toBe('override-not-yours')
    expect(kindOf(await offerLots(db, group.steward, offering([guarded])))).toBe('lots-unfit')
    expect(kindOf(await offerLots(db, group.steward, offering([guarded], reason)))).toBe('accepted')
  })

  test('asks for numbers only of ticked lots', async () => {
    const lot = await makeLot(database.db, group)
    const row = { sticksPerShare: '', shares: '0', note: '' }
    const parsed = OfferLotsInput.safeParse({
      key: database.db.newId(),
      swapId,
      offers: [row, { ...row, lotId: lot.lotId, shares: '' }],
    })
    const issues = parsed.success
      ? []
      : parsed.error.issues.map(({ path, message }) => [path.join('.'), message])
    expect(issues).toEqual([
      ['offers.1.sticksPerShare', 'Say how many sticks make a share: at least 1'],
      ['offers.1.shares', 'Say how many shares: at least 1'],
    ])
  })

  test.each([
    [[], 'Tick at least one lot'],
    [[null], 'Tick at least one lot'],
  ])('asks for a lot: %j', (lots, message) => {
    expect(() => offering(lots)).toThrow(message)
  })
})

describe('withdrawing a lot', () => {
  test('takes it off the table, and it can come back', async () => {
    const { db } = database
    const lot = await makeOffering(db, group, swapId, { sticks: 20 })
    valueIn(await withdrawOffering(db, group.helper, { offeringId: lot.offeringId }))
    const rows = async () => (await getCatalogue(db, group.member, swapId))?.rows ?? []
    expect((await rows()).map(({ lotId }) => lotId)).not.toContain(lot.lotId)
    expect(kindOf(await withdrawOffering(db, group.helper, { offeringId: lot.offeringId }))).toBe('not-found')
    expect(valueIn(await offerLots(db, group.helper, offering([lot])))).toEqual({
      offeringIds: [lot.offeringId],
    })
    expect((await rows()).find(({ lotId }) => lotId === lot.lotId)).toMatchObject({
      shares: 5,
      sharesLeft: 5,
    })
  })

  test('waits while sticks of it are promised', async () => {
    const { db } = database
    const { offeringId } = await makeOffering(db, group, swapId)
    const input = ClaimOfferingInput.parse({ key: db.newId(), offeringId, shares: '2' })
    const { claimId } = valueIn(await claimOffering(db, group.member, input))
    expect(await withdrawOffering(db, group.organiser, { offeringId })).toEqual({
      ok: false,
      refusal: { kind: 'claims-standing', claims: 1, sticks: 4 },
    })
    valueIn(await giveBackClaim(db, group.member, { key: db.newId(), claimId, reason: undefined }))
    expect(kindOf(await withdrawOffering(db, group.organiser, { offeringId }))).toBe('accepted')
  })

  test('is not for a member, nor for another group', async () => {
    const { db } = database
    const { offeringId } = await makeOffering(db, group, swapId)
    expect(kindOf(await withdrawOffering(db, group.member, { offeringId }))).toBe('not-allowed')
    expect(kindOf(await withdrawOffering(db, others.organiser, { offeringId }))).toBe('not-found')
  })
})

describe('changing how many shares a lot gives', () => {
  const change = (offeringId: string, shares: number) =>
    ChangeOfferingInput.parse({ offeringId, shares: String(shares), note: '' })

  test('within what is claimed and what is there', async () => {
    const { db } = database
    const { offeringId } = await makeOffering(db, group, swapId, { shares: 5, sticksPerShare: 2, sticks: 16 })
    const input = ClaimOfferingInput.parse({ key: db.newId(), offeringId, shares: '2' })
    valueIn(await claimOffering(db, group.member, input))
    expect(await changeOffering(db, group.helper, change(offeringId, 1))).toMatchObject({
      refusal: { kind: 'fewer-than-claimed', claimed: 2 },
    })
    expect(await changeOffering(db, group.helper, change(offeringId, 9))).toMatchObject({
      refusal: { kind: 'not-enough-sticks', left: 12 },
    })
    valueIn(await changeOffering(db, group.helper, change(offeringId, 8)))
    valueIn(await changeOffering(db, group.helper, change(offeringId, 2)))
    const catalogue = await getCatalogue(db, group.member, swapId)
    expect(catalogue?.rows.find((row) => row.offeringId === offeringId)).toMatchObject({
      shares: 2,
      sharesLeft: 0,
    })
  })

  test('is not for a member, nor for another group', async () => {
    const { db } = database
    const { offeringId } = await makeOffering(db, group, swapId)
    expect(kindOf(await changeOffering(db, group.member, change(offeringId, 2)))).toBe('not-allowed')
    expect(kindOf(await changeOffering(db, others.organiser, change(offeringId, 2)))).toBe('not-found')
  })
})
