import { beforeAll, describe, expect, test } from 'vitest'
import { cultivarSearchKey } from '#lib/grafting/cultivar-name.ts'
import { claimOffering } from '#lib/swaps/claim-offering.ts'
import { ClaimOfferingInput } from '#lib/swaps/input.ts'
import { claimsOf, getCatalogue, getOffering } from '#lib/swaps/queries.ts'
import { makeGroup, type TestGroup } from '#tests/support/actors.ts'
import { testDatabase } from '#tests/support/database.ts'
import { makeOffering, makeSwap, placeTestHold, type TestOffering, valueIn } from './swap-world.ts'

const database = testDatabase()
let group: TestGroup
let others: TestGroup
let swapId: string
const lots: Record<string, TestOffering> = {}

beforeAll(async () => {
  const { db } = database
  group = await makeGroup(db)
  others = await makeGroup(db)
  swapId = await makeSwap(db, group)
  await db.prisma.taxon.create({
    data: {
      key: 'pyrus-communis',
      genus: 'Pyrus',
      species: 'communis',
      commonName: 'European pear',
      family: 'Rosaceae',
      storageProfile: 'pear',
    },
  })
  for (const [name, taxonKey] of [
    ['Beurré Superfin', 'pyrus-communis'],
    ['Joséphine de Malines', 'pyrus-communis'],
    ["Ashmead's Kernel", 'malus-domestica'],
    ['Reinette du Canada', 'malus-domestica'],
  ] as const) {
    const lot = await makeOffering(db, group, swapId, { varietyName: name, taxonKey })
    lots[name] = lot
    await db.prisma.variety.update({
      where: { groupId_id: { groupId: group.groupId, id: lot.varietyId } },
      data: { nameKey: cultivarSearchKey(name) },
    })
  }
  await db.prisma.varietySynonym.create({
    data: {
      groupId: group.groupId,
      id: db.newId(),
      varietyId: lots['Reinette du Canada']?.varietyId ?? '',
      name: 'Blenheimsrenett Åkerö',
      nameKey: cultivarSearchKey('Blenheimsrenett Åkerö'),
    },
  })
})

const namesOf = async (wish: Parameters<typeof getCatalogue>[3]) =>
  (await getCatalogue(database.db, group.member, swapId, wish))?.rows.map(({ varietyName }) => varietyName)

describe('the catalogue', () => {
  test('is by crop and name, and counts the crops', async () => {
    const catalogue = await getCatalogue(database.db, group.member, swapId)
    expect(catalogue?.rows.map(({ varietyName }) => varietyName)).toEqual([
      "Ashmead's Kernel",
      'Reinette du Canada',
      'Beurré Superfin',
      'Joséphine de Malines',
    ])
    expect(catalogue?.crops).toEqual([
      { key: 'malus-domestica', name: 'apple', lots: 2 },
      { key: 'pyrus-communis', name: 'European pear', lots: 2 },
    ])
    expect(catalogue).toMatchObject({
      found: 4,
      stillFree: 4,
      limits: { held: 0, cap: 10, capPerVariety: 10 },
    })
  })

  test.each([
    ['beurre', ['Beurré Superfin']],
    ['BEURRÉ-SUPERFIN', ['Beurré Superfin']],
    ['ashmeads', ["Ashmead's Kernel"]],
    ['Ashmead’s', ["Ashmead's Kernel"]],
    ['akero', ['Reinette du Canada']],
    ['pear', ['Beurré Superfin', 'Joséphine de Malines']],
    ['100%', []],
    ['_', ["Ashmead's Kernel", 'Reinette du Canada', 'Beurré Superfin', 'Joséphine de Malines']],
  ])('is searched without regard to accents, hyphens and case, by any name: %s', async (search, names) => {
    expect(await namesOf({ search })).toEqual(names)
  })

  test('is searched by lot code', async () => {
    const { code } = lots['Beurré Superfin'] ?? { code: '' }
    expect(await namesOf({ search: `${code.slice(0, 3)}-${code.slice(3)}`.toLowerCase() })).toEqual([
      'Beurré Superfin',
    ])
  })

  test('is filtered by crop and by what is still free', async () => {
    const { db } = database
    expect(await namesOf({ crop: 'malus-domestica' })).toEqual(["Ashmead's Kernel", 'Reinette du Canada'])
    const own = await makeGroup(db)
    const swap = await makeSwap(db, own)
    const gone = await makeOffering(db, own, swap, { shares: 1 })
    const free = await makeOffering(db, own, swap, { shares: 1 })
    const claim = ClaimOfferingInput.parse({ key: db.newId(), offeringId: gone.offeringId, shares: 1 })
    valueIn(await claimOffering(db, own.member, claim))
    const catalogue = await getCatalogue(db, own.otherMember, swap, { onlyFree: true })
    expect(catalogue).toMatchObject({ found: 2, stillFree: 1, rows: [{ lotId: free.lotId }] })
  })

  test('says that wood is on hold, without the reason', async () => {
    const { db } = database
    const lot = await makeOffering(db, group, await makeSwap(db, group))
    const hold = await placeTestHold(db, group, { lotId: lot.lotId })
    const swap = (await db.prisma.offering.findFirstOrThrow({ where: { id: lot.offeringId } })).swapId
    const shown = async () => (await getCatalogue(db, group.member, swap))?.rows[0]
    expect(await shown()).toMatchObject({ isHeld: true })
    expect(JSON.stringify(await shown())).not.toContain('canker')
    await db.prisma.healthHold.update({
      where: { groupId_id: { groupId: group.groupId, id: hold } },
      data: { releasedAt: db.now(), releasedById: group.steward.memberId, releaseReason: 'clean' },
    })
    expect(await shown()).toMatchObject({ isHeld: false })
  })

  test('shows a member their own claims and nobody else’s', async () => {
    const { db } = database
    const own = await makeSwap(db, group)
    const { offeringId } = await makeOffering(db, group, own)
    const input = ClaimOfferingInput.parse({ key: db.newId(), offeringId, shares: 2, purpose: 'secret wall' })
    const { claimId } = valueIn(await claimOffering(db, group.member, input))
    expect(await getCatalogue(db, group.member, own)).toMatchObject({
      rows: [{ mine: [{ claimId, shares: 2, status: 'promised' }], sharesLeft: 3, sticksPromised: 4 }],
      limits: { held: 2, sticks: 4, lots: 1 },
    })
    const seen = await getCatalogue(db, group.otherMember, own)
    expect(seen).toMatchObject({ rows: [{ mine: [], sticksPromised: 4 }], limits: { held: 0 } })
    expect(JSON.stringify(seen)).not.toMatch(/secret wall|Mabel/)
    expect(await claimsOf(db, group.otherMember, own, group.member.memberId)).toBeNull()
    expect(await claimsOf(db, group.helper, own, group.member.memberId)).toMatchObject({
      claims: [{ purpose: 'secret wall' }],
    })
  })

  test('is not there for another group, nor by half an id', async () => {
    const { db } = database
    expect(await getCatalogue(db, others.organiser, swapId)).toBeNull()
    expect(await getCatalogue(db, group.member, 'swap')).toBeNull()
    const { offeringId } = lots['Beurré Superfin'] ?? { offeringId: '' }
    expect(await getOffering(db, others.organiser, swapId, offeringId)).toBeNull()
    expect(await getOffering(db, group.member, await makeSwap(db, group), offeringId)).toBeNull()
    expect(await getOffering(db, group.member, swapId, 'offering')).toBeNull()
    expect(await claimsOf(db, others.organiser, swapId)).toBeNull()
  })
})
