import { beforeAll, describe, expect, test } from 'vitest'
import { verifyLedger } from '#lib/ledger/verify-ledger.ts'
import { claimOffering } from '#lib/swaps/claim-offering.ts'
import { wallTimesOf } from '#lib/swaps/claim-times.ts'
import { createSwap } from '#lib/swaps/create-swap.ts'
import { editSwap } from '#lib/swaps/edit-swap.ts'
import { finishSwap, notFetched } from '#lib/swaps/finish-swap.ts'
import { handOver } from '#lib/swaps/hand-over.ts'
import { ClaimOfferingInput, CreateSwapInput, EditSwapInput } from '#lib/swaps/input.ts'
import { openSwap } from '#lib/swaps/open-swap.ts'
import { getSwap, listSwaps } from '#lib/swaps/queries.ts'
import { makeGroup, type TestGroup } from '#tests/support/actors.ts'
import { testDatabase } from '#tests/support/database.ts'
import { holdingsOf, kindOf, makeOffering, makeSwap, valueIn } from './swap-world.ts'

const database = testDatabase({ now: () => new Date('2027-02-01T12:00:00Z') })
let group: TestGroup
let others: TestGroup

beforeAll(async () => {
  group = await makeGroup(database.db)
  others = await makeGroup(database.db)
})

/** As a browser sends it. */
const posted = (changes: Record<string, string> = {}) => ({
  key: database.db.newId(),
  name: 'Winter swap',
  heldOn: '2027-02-21',
  place: 'Marrow Lane hall',
  claimsOpenOn: '2027-01-20',
  claimsOpenTime: '08:00',
  claimsCloseOn: '2027-02-14',
  claimsCloseTime: '18:00',
  capPerMember: '10',
  capPerVariety: '2',
  note: '',
  ...changes,
})

const messagesOf = (changes: Record<string, string>): string[] => {
  const parsed = CreateSwapInput.safeParse(posted(changes))
  return parsed.success ? [] : parsed.error.issues.map((issue) => issue.message)
}

describe('planning a swap', () => {
  test('keeps the times of a clock on the group’s wall', async () => {
    const { db } = database
    const input = CreateSwapInput.parse(
      posted({ claimsOpenOn: '2027-03-27', claimsCloseOn: '2027-03-29', heldOn: '2027-04-03' }),
    )
    const { swapId } = valueIn(await createSwap(db, group.organiser, input))
    const swap = await getSwap(db, group.member, swapId)
    // Clocks went forward on 28 March 2027.
    expect(swap).toMatchObject({
      status: 'planned',
      claiming: 'not-opened',
      claimsOpenAt: new Date('2027-03-27T08:00:00Z'),
      claimsCloseAt: new Date('2027-03-29T17:00:00Z'),
      note: null,
      lots: 0,
    })
    if (swap)
      expect(wallTimesOf('Europe/London', swap)).toMatchObject({
        claimsOpenTime: '08:00',
        claimsCloseTime: '18:00',
      })
  })

  test.each(['steward', 'helper', 'member'] as const)('is not for a %s', async (role) => {
    const refused = await createSwap(database.db, group[role], CreateSwapInput.parse(posted()))
    expect(refused).toMatchObject({ ok: false, refusal: { kind: 'not-allowed', right: 'run-swaps' } })
  })

  test('happens once for one form', async () => {
    const { db } = database
    const input = CreateSwapInput.parse(posted({ name: 'Twice' }))
    const first = valueIn(await createSwap(db, group.organiser, input))
    expect(valueIn(await createSwap(db, group.organiser, input))).toEqual(first)
    expect(kindOf(await createSwap(db, group.organiser, { ...input, name: 'Other' }))).toBe('key-reused')
    expect(await db.prisma.swap.count({ where: { name: 'Twice' } })).toBe(1)
  })

  test('asks for what is missing, in words', () => {
    expect(messagesOf({ name: ' ' })).toEqual(['Give the swap a name'])
    expect(messagesOf({ heldOn: '2027-02-30' })).toEqual(['Say on which day the swap is held'])
    expect(messagesOf({ claimsOpenTime: '25:00' })).toEqual(['Say at what time, such as 18:00'])
    expect(messagesOf({ capPerMember: '0' })).toEqual(['Say how many shares one member may hold: at least 1'])
    expect(messagesOf({ claimsCloseOn: '2027-01-20', claimsCloseTime: '08:00' })).toEqual([
      'Claims must close after they open',
    ])
    expect(messagesOf({ claimsCloseOn: '2027-02-22' })).toEqual(['Claims must close by the day of the swap'])
  })
})

describe('changing a swap', () => {
  const edited = (swapId: string, changes: Record<string, string> = {}) =>
    EditSwapInput.parse({ ...posted(changes), swapId })

  test('changes everything that was planned', async () => {
    const { db } = database
    const swapId = await makeSwap(db, group)
    valueIn(await editSwap(db, group.organiser, edited(swapId, { place: 'The barn', capPerMember: '4' })))
    expect(await getSwap(db, group.member, swapId)).toMatchObject({ place: 'The barn', capPerMember: 4 })
  })

  test('is not for a helper, nor for another group, nor after the end', async () => {
    const { db } = database
    const swapId = await makeSwap(db, group)
    expect(kindOf(await editSwap(db, group.helper, edited(swapId)))).toBe('not-allowed')
    expect(kindOf(await editSwap(db, others.organiser, edited(swapId)))).toBe('not-found')
    const finished = await makeSwap(db, group, { status: 'finished' })
    expect(kindOf(await editSwap(db, group.organiser, edited(finished)))).toBe('swap-finished')
  })
})

describe('opening a swap', () => {
  test('lets members claim between its times', async () => {
    const { db } = database
    const swapId = await makeSwap(db, group, { status: 'planned' })
    const { offeringId } = await makeOffering(db, group, swapId)
    const claim = () =>
      claimOffering(db, group.member, ClaimOfferingInput.parse({ key: db.newId(), offeringId, shares: 1 }))
    expect(kindOf(await claim())).toBe('claims-not-open')
    valueIn(await openSwap(db, group.organiser, { swapId }))
    expect(kindOf(await claim())).toBe('accepted')
  })

  test('is said to be done already the second time, and is the organiser’s', async () => {
    const { db } = database
    const swapId = await makeSwap(db, group, { status: 'planned' })
    expect(kindOf(await openSwap(db, group.steward, { swapId }))).toBe('not-allowed')
    expect(kindOf(await openSwap(db, others.organiser, { swapId }))).toBe('not-found')
    expect(kindOf(await openSwap(db, group.organiser, { swapId }))).toBe('accepted')
    expect(kindOf(await openSwap(db, group.organiser, { swapId }))).toBe('swap-already-open')
  })

  test.each([
    [{ status: 'open', opens: 1, closes: 2 }, 'opens-later'],
    [{ status: 'open', opens: -1, closes: 1 }, 'open'],
    [{ status: 'open', opens: -2, closes: -1 }, 'closed'],
    [{ status: 'open', opens: -2, closes: 0 }, 'closed'],
    [{ status: 'planned', opens: -2, closes: 1 }, 'not-opened'],
    [{ status: 'finished', opens: -2, closes: 1 }, 'finished'],
  ] as const)('shows how claims stand: %j is %s', async (options, claiming) => {
    const { db } = database
    expect(await getSwap(db, group.member, await makeSwap(db, group, options))).toMatchObject({ claiming })
  })
})

describe('finishing a swap', () => {
  const claimed = async (swapId: string) => {
    const { db } = database
    const offering = await makeOffering(db, group, swapId)
    const input = ClaimOfferingInput.parse({ key: db.newId(), offeringId: offering.offeringId, shares: 2 })
    return { ...offering, ...valueIn(await claimOffering(db, group.member, input)) }
  }

  test('waits for a word about sticks that nobody fetched', async () => {
    const { db } = database
    const swapId = await makeSwap(db, group)
    const waiting = await claimed(swapId)
    expect(await finishSwap(db, group.organiser, { swapId, giveBackRest: false })).toEqual({
      ok: false,
      refusal: { kind: 'claims-standing', claims: 1, sticks: 4 },
    })
    expect(await getSwap(db, group.member, swapId)).toMatchObject({ status: 'open' })
    expect(await holdingsOf(db, waiting.lotId)).toMatchObject({ promised: 4 })
  })

  test('puts them back into their store, with the reason, and leaves what was handed over', async () => {
    const { db } = database
    const swapId = await makeSwap(db, group)
    const fetched = await claimed(swapId)
    const waiting = await claimed(swapId)
    valueIn(await handOver(db, group.helper, { key: db.newId(), claimId: fetched.claimId, sticks: 4 }))
    expect(valueIn(await finishSwap(db, group.organiser, { swapId, giveBackRest: true }))).toEqual({
      claimsGivenBack: 1,
      sticksGivenBack: 4,
    })
    expect(await holdingsOf(db, waiting.lotId)).toEqual({ cut: -10, store: 10 })
    expect(await holdingsOf(db, fetched.lotId)).toMatchObject({
      store: 6,
      [`member:${group.member.memberId}`]: 4,
    })
    const [release] = await db.prisma.move.findMany({ where: { claimId: waiting.claimId, kind: 'release' } })
    expect(release).toMatchObject({ reason: notFetched, recordedById: group.organiser.memberId })
    expect(await verifyLedger(db, group.groupId)).toEqual([])
  })

  test('is the organiser’s, once, of the own group', async () => {
    const { db } = database
    const swapId = await makeSwap(db, group)
    const input = { swapId, giveBackRest: true }
    expect(kindOf(await finishSwap(db, group.helper, input))).toBe('not-allowed')
    expect(kindOf(await finishSwap(db, others.organiser, input))).toBe('not-found')
    expect(kindOf(await finishSwap(db, group.organiser, input))).toBe('accepted')
    expect(kindOf(await finishSwap(db, group.organiser, input))).toBe('swap-finished')
    expect(kindOf(await openSwap(db, group.organiser, { swapId }))).toBe('accepted')
  })
})

describe('the list of swaps', () => {
  test('has the own group’s, latest day first', async () => {
    const { db } = database
    const own = await makeGroup(db)
    for (const heldOn of ['2026-02-22', '2027-02-21', '2025-02-16']) {
      const input = CreateSwapInput.parse(
        posted({ heldOn, claimsOpenOn: '2025-01-01', claimsCloseOn: '2025-02-01', name: heldOn }),
      )
      valueIn(await createSwap(db, own.organiser, input))
    }
    expect((await listSwaps(db, own.member)).map((swap) => swap.name)).toEqual([
      '2027-02-21',
      '2026-02-22',
      '2025-02-16',
    ])
    const [swap] = await listSwaps(db, own.member)
    expect(await getSwap(db, group.organiser, swap?.id ?? '')).toBeNull()
    expect(await getSwap(db, group.organiser, 'not-an-id')).toBeNull()
  })
})
