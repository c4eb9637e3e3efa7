import { randomUUID } from 'node:crypto'
import { beforeAll, describe, expect, test } from 'vitest'
import { issueCode } from '#lib/grafting/codes.ts'
import { claimShares } from '#lib/ledger/claim-statements.ts'
import { findLotByCode, getLot, listWood, offerableLots } from '#lib/wood/queries.ts'
import { recordLoss } from '#lib/wood/record-loss.ts'
import { makeGroup, makeLot, type TestGroup, type TestLot } from '#tests/support/actors.ts'
import { testDatabase } from '#tests/support/database.ts'

const now = new Date('2027-02-04T09:00:00Z')
const database = testDatabase({ now: () => now })

let group: TestGroup
let early: TestLot
let late: TestLot
let gone: TestLot
let held: TestLot

beforeAll(async () => {
  const { db } = database
  group = await makeGroup(db)
  late = await makeLot(db, group, { cutOn: '2027-01-30', varietyName: 'Annie Elizabeth', sticks: 10 })
  early = await makeLot(db, group, { cutOn: '2026-09-20', varietyName: 'Egremont Russet', sticks: 8 })
  gone = await makeLot(db, group, { cutOn: '2027-01-05', varietyName: 'Baldwin', sticks: 6 })
  held = await makeLot(db, group, {
    cutOn: '2027-01-02',
    varietyName: 'Morello',
    sticks: 4,
    taxonKey: 'prunus-cerasus',
    genus: 'Prunus',
  })
  await makeLot(db, group, { cutOn: '2026-08-31', varietyName: 'Last Season', sticks: 5 })
  await recordLoss(db, group.helper, {
    key: randomUUID(),
    lotId: gone.lotId,
    sticks: 6,
    fate: 'lost',
    reason: 'left on the bus',
  })
  await db.prisma.healthHold.create({
    data: {
      groupId: group.groupId,
      id: randomUUID(),
      lotId: held.lotId,
      reason: 'gum on the limb',
      placedById: group.steward.memberId,
      placedAt: now,
    },
  })
})

const codes = async (filter: Parameters<typeof listWood>[2] = {}) =>
  (await listWood(database.db, group.member, filter)).lots.map((lot) => lot.code)

describe('the list of wood', () => {
  test('shows this season’s wood in its stores, what must be used first at the top and held wood last', async () => {
    expect(await codes()).toEqual([early.code, late.code, held.code])
  })

  test('says how each lot stands', async () => {
    const { lots } = await listWood(database.db, group.member)
    expect(lots[0]).toMatchObject({
      varietyName: 'Egremont Russet',
      sums: { cut: 8, free: 8 },
      isHeld: false,
    })
    expect(lots[0]?.window).toMatchObject({ kind: 'window', state: 'test' })
    expect(lots[1]?.window).toMatchObject({ kind: 'window', state: 'good' })
    expect(lots[2]?.isHeld).toBe(true)
  })

  test('narrows to a crop, to a store and to a state', async () => {
    expect(await codes({ crop: 'prunus-cerasus' })).toEqual([held.code])
    expect(await codes({ store: late.storeId })).toEqual([late.code])
    expect(await codes({ state: 'urgent' })).toEqual([early.code])
    expect(await codes({ state: 'held' })).toEqual([held.code])
    expect(await codes({ state: 'gone' })).toEqual([gone.code])
    expect(await codes({ state: 'all' })).toHaveLength(4)
  })

  test('sorts by the latest cut and by name', async () => {
    expect(await codes({ sort: 'latest' })).toEqual([late.code, held.code, early.code])
    expect(await codes({ sort: 'name' })).toEqual([late.code, early.code, held.code])
  })

  test('keeps seasons apart: 31 August belongs to the one before', async () => {
    const { lots, seasons, season } = await listWood(database.db, group.member, { season: 2025 })
    expect(lots.map((lot) => lot.varietyName)).toEqual(['Last Season'])
    expect([season, seasons]).toEqual([2025, [2026, 2025]])
  })

  test('counts the whole season whatever is shown of it', async () => {
    const { counts, byCrop } = await listWood(database.db, group.member, { state: 'held' })
    expect(counts).toEqual({
      lots: 4,
      kept: 3,
      free: 3,
      held: 1,
      gone: 1,
      sticksCut: 28,
      sticksFree: 22,
      sticksPromised: 0,
    })
    expect(byCrop.map((crop) => [crop.key, crop.lots])).toEqual([
      ['malus-domestica', 2],
      ['prunus-cerasus', 1],
    ])
  })

  test('takes four statements', async () => {
    let statements = 0
    const count = () => {
      statements++
    }
    database.db.pool.on('acquire', count)
    await listWood(database.db, group.member)
    database.db.pool.off('acquire', count)
    expect(statements).toBe(4)
  })
})

describe('finding a lot by its code', () => {
  const issued = async (kind: 'lot' | 'tree') => {
    const code: string = issueCode((limit) => Math.floor(Math.random() * limit))
    await database.db.prisma.issuedCode.create({ data: { groupId: group.groupId, code, kind } })
    return code
  }
  const find = (text: string) => findLotByCode(database.db, group.member, text)

  test('takes small letters, a hyphen and spaces', async () => {
    const code = await issued('lot')
    const typed = ` ${code.slice(0, 3).toLowerCase()}-${code.slice(3)} `
    expect(await find(typed)).toEqual({ ok: true, value: { kind: 'lot', code } })
  })

  test('tells a tree from a lot', async () => {
    const code = await issued('tree')
    expect(await find(code)).toEqual({ ok: true, value: { kind: 'tree', code } })
  })

  test('says what is wrong with a text that cannot be a code', async () => {
    const code = await issued('lot')
    const swapped = `${code.slice(0, 5)}${code.endsWith('2') ? '3' : '2'}`
    expect(await find('')).toMatchObject({ refusal: { kind: 'empty' } })
    expect(await find('ABC')).toMatchObject({ refusal: { kind: 'wrong-length', length: 3 } })
    expect(await find('O1LABC')).toMatchObject({ refusal: { kind: 'bad-character' } })
    expect(await find(swapped)).toMatchObject({ refusal: { kind: 'check-does-not-fit' } })
  })

  test('does not know a code that another group gave', async () => {
    const code = await issued('lot')
    const other = await makeGroup(database.db)
    expect(await findLotByCode(database.db, other.member, code)).toMatchObject({
      refusal: { kind: 'not-given', code },
    })
  })
})

describe('lots to offer', () => {
  test('are all free, named lots that are not on hold, for those who offer any', async () => {
    const offered = await offerableLots(database.db, group.helper)
    const here = offered.map((lot) => lot.code)
    expect(here).toContain(early.code)
    expect(here).toContain(late.code)
    expect(here).not.toContain(held.code)
    expect(here).not.toContain(gone.code)
  })

  test('are one’s own for a member', async () => {
    expect(await offerableLots(database.db, group.otherMember)).toEqual([])
    expect((await offerableLots(database.db, group.member)).length).toBeGreaterThan(0)
  })
})

describe('the names of those who claim', () => {
  test('are there for who hands over and for the person, and counts for all', async () => {
    const { db } = database
    const swapId = randomUUID()
    const offeringId = randomUUID()
    await db.prisma.swap.create({
      data: {
        groupId: group.groupId,
        id: swapId,
        name: 'Winter swap',
        heldOn: new Date('2027-02-21T00:00:00Z'),
        place: 'the hall',
        status: 'open',
        claimsOpenAt: new Date('2027-01-24T00:00:00Z'),
        claimsCloseAt: new Date('2027-02-14T18:00:00Z'),
        capPerMember: 10,
        capPerVariety: 5,
        createdById: group.organiser.memberId,
      },
    })
    await db.prisma.offering.create({
      data: {
        groupId: group.groupId,
        id: offeringId,
        swapId,
        lotId: late.lotId,
        sticksPerShare: 2,
        shares: 4,
        offeredById: group.organiser.memberId,
        offeredAt: now,
      },
    })
    const claim = await claimShares(db, {
      groupId: group.groupId,
      offeringId,
      memberId: group.otherMember.memberId,
      recordedBy: group.otherMember.memberId,
      shares: 2,
      purpose: 'M26, bench',
      key: randomUUID(),
      hash: 'x',
    })
    expect(claim.ok).toBe(true)
    const seenBy = async (actor: TestGroup['member']) => {
      const view = await getLot(db, actor, late.code)
      const [first] = view?.offerings[0]?.claims ?? []
      const [, promise] = view?.moves ?? []
      return [
        first?.memberName,
        first?.sticks,
        first?.purpose,
        first?.isOwn,
        promise?.recordedBy,
        promise?.freeAfter,
      ]
    }
    expect(await seenBy(group.member)).toEqual([null, 4, null, false, null, 6])
    expect(await seenBy(group.otherMember)).toEqual(['Otto Other', 4, 'M26, bench', true, 'Otto Other', 6])
    expect(await seenBy(group.helper)).toEqual(['Otto Other', 4, 'M26, bench', false, 'Otto Other', 6])
    expect((await getLot(db, group.member, late.code))?.swapDay).toBe('2027-02-21')
  })
})
