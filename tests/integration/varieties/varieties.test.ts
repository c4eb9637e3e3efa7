import { randomUUID } from 'node:crypto'
import { beforeAll, describe, expect, test } from 'vitest'
import { civilDate } from '#lib/kernel/civil-date.ts'
import { addSynonym } from '#lib/varieties/add-synonym.ts'
import { addVariety } from '#lib/varieties/add-variety.ts'
import { editVariety } from '#lib/varieties/edit-variety.ts'
import { AddVarietyInput } from '#lib/varieties/input.ts'
import { getVariety, listVarieties, taxaInUse, taxonChoices, varietyChoices } from '#lib/varieties/queries.ts'
import { varietyRefusalWords } from '#lib/varieties/refusal-words.ts'
import { removeSynonym } from '#lib/varieties/remove-synonym.ts'
import { makeGroup, makeLot, type TestGroup } from '#tests/support/actors.ts'
import { testDatabase } from '#tests/support/database.ts'

const database = testDatabase({ now: () => new Date('2027-02-04T10:00:00Z') })
let group: TestGroup
let elsewhere: TestGroup

const taxon = (key: string, genus: string, species: string, commonName: string, family = 'Rosaceae') => ({
  key,
  genus,
  species,
  commonName,
  family,
  storageProfile: 'apple',
})

beforeAll(async () => {
  group = await makeGroup(database.db)
  elsewhere = await makeGroup(database.db, 'Another Circle')
  const taxa = [
    taxon('malus-domestica', 'Malus', 'domestica', 'Apple'),
    taxon('prunus-domestica', 'Prunus', 'domestica', 'European plum'),
    taxon('vitis-vinifera', 'Vitis', 'vinifera', 'Grape vine', 'Vitaceae'),
    taxon('citrus-limon', 'Citrus', '× limon', 'Lemon', 'Rutaceae'),
  ]
  await database.db.prisma.taxon.createMany({ data: taxa, skipDuplicates: true })
})

const entry = (name: string, more: object = {}) =>
  AddVarietyInput.parse({ key: randomUUID(), taxonKey: 'malus-domestica', name, ...more })

async function added(name: string, more: object = {}): Promise<string> {
  const result = await addVariety(database.db, group.helper, entry(name, more))
  if (!result.ok) throw new Error(`${name}: ${result.refusal.kind}`)
  return result.value.varietyId
}

const edited = (varietyId: string, name: string, more: object = {}) => {
  const { key: _key, synonyms: _synonyms, ...fields } = entry(name, more)
  return { varietyId, ...fields }
}

describe('adding a variety', () => {
  test('keeps the name without quotes, and every other name once', async () => {
    const id = await added('‘Court Pendu Plat’', {
      synonyms: [
        { name: 'Wise Apple', kind: 'synonym' },
        { name: '', kind: 'synonym' },
        { name: 'wise apple', kind: 'selling_name' },
        { name: 'Court pendu plat', kind: 'synonym' },
      ],
    })
    expect(await getVariety(database.db, group.member, id)).toMatchObject({
      name: 'Court Pendu Plat',
      taxonName: 'Malus domestica',
      nameCertainty: 'likely',
      protection: 'none_known',
      protectionCheckedOn: null,
      synonyms: [{ name: 'Wise Apple', kind: 'synonym' }],
      mayEdit: false,
    })
  })

  test('refuses the same name spelt another way, and takes it for another kind of fruit', async () => {
    await added('Coe’s Golden Drop', { taxonKey: 'prunus-domestica' })
    const again = await addVariety(
      database.db,
      group.helper,
      entry('"Coes golden-drop"', { taxonKey: 'prunus-domestica' }),
    )
    expect(again).toEqual({ ok: false, refusal: { kind: 'name-taken', name: 'Coes golden-drop' } })
    expect((await addVariety(database.db, group.helper, entry('Coes Golden Drop'))).ok).toBe(true)
  })

  test('refuses the name also when two add it at the same moment', async () => {
    const results = await Promise.all([
      addVariety(database.db, group.helper, entry('Slack ma Girdle')),
      addVariety(database.db, group.steward, entry('Slack-Ma-Girdle')),
    ])
    expect(results.map((result) => result.ok).sort()).toEqual([false, true])
  })

  test('the second click adds nothing', async () => {
    const input = entry('Clicked Twice')
    const first = await addVariety(database.db, group.helper, input)
    expect(await addVariety(database.db, group.helper, input)).toEqual(first)
  })

  test('is not for members, and never of a kind of fruit that nobody knows', async () => {
    const byMember = await addVariety(database.db, group.member, entry('Mine'))
    expect(byMember).toMatchObject({ ok: false, refusal: { right: 'edit-varieties' } })
    const unknown = await addVariety(database.db, group.helper, entry('Lost', { taxonKey: 'pomum-ignotum' }))
    expect(unknown).toEqual({ ok: false, refusal: { kind: 'unknown-taxon' } })
  })

  test('a day of checking that is still to come is refused', async () => {
    const input = entry('Looked Up Tomorrow', { protectionCheckedOn: '2027-02-05' })
    const result = await addVariety(database.db, group.helper, input)
    expect(result).toEqual({ ok: false, refusal: { kind: 'checked-ahead', today: '2027-02-04' } })
  })

  test('a name of quotes alone is refused at its field', () => {
    const parsed = AddVarietyInput.safeParse({ ...entry('X'), name: '‘’' })
    expect(parsed.error?.issues.map((issue) => [issue.path.join('.'), issue.message])).toEqual([
      ['name', 'Enter the variety’s name, without quotes'],
    ])
  })
})

describe('searching', () => {
  test('takes no notice of accents, capitals and punctuation', async () => {
    await added('Joséphine de Malines')
    for (const search of ['josephine', 'JOSÉPHINE DE', 'josephine-de-malines']) {
      const found = await listVarieties(database.db, group.member, { search })
      expect(found.map((row) => [row.name, row.foundAs])).toEqual([['Joséphine de Malines', null]])
    }
  })

  test('finds other names and says through which', async () => {
    const id = await added('Quetsche d’Alsace', {
      taxonKey: 'prunus-domestica',
      synonyms: [{ name: 'Zwetschge Älterer Art', kind: 'synonym' }],
    })
    const found = await listVarieties(database.db, group.member, { search: 'alterer' })
    expect(found).toMatchObject([{ id, name: "Quetsche d'Alsace", foundAs: 'Zwetschge Älterer Art' }])
  })

  test('finds a kind of fruit, and keeps to the one that was chosen', async () => {
    const plums = await listVarieties(database.db, group.member, { search: 'plum' })
    expect(new Set(plums.map((row) => row.commonName))).toEqual(new Set(['European plum']))
    const apples = await listVarieties(database.db, group.member, { taxon: 'malus-domestica' })
    expect(new Set(apples.map((row) => row.commonName))).toEqual(new Set(['Apple']))
    expect(await listVarieties(database.db, group.member, { search: 'no such sort' })).toEqual([])
  })

  test('stays within the group', async () => {
    const id = await added('Only Here')
    expect(await listVarieties(database.db, elsewhere.organiser)).toEqual([])
    expect(await varietyChoices(database.db, elsewhere.organiser)).toEqual([])
    expect(await taxaInUse(database.db, elsewhere.organiser)).toEqual([])
    expect(await getVariety(database.db, elsewhere.organiser, id)).toBeNull()
    expect(await getVariety(database.db, group.member, 'not-an-id')).toBeNull()
    const choices = await varietyChoices(database.db, group.member)
    expect(choices).toContainEqual({
      id,
      name: 'Only Here',
      taxonName: 'Malus domestica',
      commonName: 'Apple',
    })
  })
})

describe('changing a variety', () => {
  test('renames it, and a search finds the new name only', async () => {
    const id = await added('Old Misspelling')
    const result = await editVariety(
      database.db,
      group.helper,
      edited(id, 'New Spelling', { note: 'Asked Nell' }),
    )
    expect(result.ok).toBe(true)
    expect(await listVarieties(database.db, group.member, { search: 'misspelling' })).toEqual([])
    expect(await listVarieties(database.db, group.member, { search: 'newspelling' })).toMatchObject([{ id }])
  })

  test('to a name that is there is refused', async () => {
    await added('Taken Already')
    const id = await added('Other Sort')
    const result = await editVariety(database.db, group.helper, edited(id, 'taken already'))
    expect(result).toEqual({ ok: false, refusal: { kind: 'name-taken', name: 'taken already' } })
  })

  test('is not for members or another group', async () => {
    const id = await added('Left Alone')
    const byMember = await editVariety(database.db, group.member, edited(id, 'Changed'))
    expect(byMember).toMatchObject({ ok: false, refusal: { kind: 'not-allowed' } })
    const byOther = await editVariety(database.db, elsewhere.organiser, edited(id, 'Changed'))
    expect(byOther).toEqual({ ok: false, refusal: { kind: 'not-found' } })
  })
})

describe('protection', () => {
  test('a helper notes a patent; only organiser or steward takes one away', async () => {
    const id = await added('Bright New Thing', { introducedYear: 2015 })
    const noted = await editVariety(
      database.db,
      group.helper,
      edited(id, 'Bright New Thing', { protection: 'in_force', protectionCheckedOn: '2027-02-01' }),
    )
    expect(noted.ok).toBe(true)
    const lifting = edited(id, 'Bright New Thing', { protection: 'expired' })
    const byHelper = await editVariety(database.db, group.helper, lifting)
    expect(byHelper).toEqual({
      ok: false,
      refusal: { kind: 'protection-stays', roles: ['organiser', 'steward'] },
    })
    expect(varietyRefusalWords({ kind: 'protection-stays', roles: ['organiser', 'steward'] }).message).toBe(
      'A patent or right that was noted is taken away only by organiser or steward.',
    )
    expect((await editVariety(database.db, group.steward, lifting)).ok).toBe(true)
    const log = await database.db.prisma.auditEntry.findFirst({
      where: { subject: `variety:${id}`, actorId: group.steward.memberId },
    })
    expect(log?.detail).toEqual({ protectionBefore: 'in_force', protection: 'expired' })
  })

  test.each([
    ['in_force', 1950, true],
    ['pending', 1950, true],
    ['breeders_right', 1950, true],
    ['none_known', 2020, false],
    ['expired', 2020, false],
    ['unknown', 1997, false],
    ['unknown', 1998, true],
    ['unknown', undefined, true],
  ])(
    '%s, introduced %s: kept out of a swap in 2027 without an override: %s',
    async (protection, year, kept) => {
      const id = await added(`Protection ${protection} ${year}`, {
        protection,
        ...(year ? { introducedYear: year } : {}),
      })
      expect((await getVariety(database.db, group.member, id))?.needsOverride).toBe(kept)
      // The same rule as the database's, which has the last word.
      const lot = await makeLot(database.db, group, { varietyName: `Lot of ${protection} ${year}` })
      await database.db.prisma.variety.update({
        where: { groupId_id: { groupId: group.groupId, id: lot.varietyId } },
        data: { protection: protection as 'unknown', introducedYear: year ?? null },
      })
      const at = new Date('2027-02-01T10:00:00Z')
      const swapId = database.db.newId()
      await database.db.prisma.swap.create({
        data: {
          groupId: group.groupId,
          id: swapId,
          name: 'Rule check',
          heldOn: new Date('2027-02-21T00:00:00Z'),
          place: 'Hall',
          claimsOpenAt: at,
          claimsCloseAt: new Date('2027-02-14T18:00:00Z'),
          capPerMember: 5,
          capPerVariety: 2,
          createdById: group.organiser.memberId,
        },
      })
      const offering = database.db.prisma.offering.create({
        data: {
          groupId: group.groupId,
          id: database.db.newId(),
          swapId,
          lotId: lot.lotId,
          sticksPerShare: 2,
          shares: 3,
          offeredById: group.helper.memberId,
          offeredAt: at,
        },
      })
      if (kept) await expect(offering).rejects.toThrow(/may be protected/)
      else await expect(offering).resolves.toBeTruthy()
    },
  )

  test('citrus is never shared; grape only where the group says so', async () => {
    const lemon = await added('Village Lemon', { taxonKey: 'citrus-limon' })
    expect((await getVariety(database.db, group.member, lemon))?.sharing).toBe('blocked')
    const grape = await added('Wall Grape', { taxonKey: 'vitis-vinifera' })
    expect((await getVariety(database.db, group.member, grape))?.sharing).toBe('group-said-no')
    const where = { id: group.groupId }
    await database.db.prisma.orchardGroup.update({ where, data: { allowsVitis: true } })
    expect((await getVariety(database.db, group.member, grape))?.sharing).toBe('shared')
  })
})

describe('other names', () => {
  test('are added once and taken away again', async () => {
    const id = await added('Ribston Pippin')
    const name = { varietyId: id, name: 'Glory of York', kind: 'synonym' as const }
    const result = await addSynonym(database.db, group.helper, name)
    expect(result.ok).toBe(true)
    const twice = await addSynonym(database.db, group.helper, { ...name, name: 'glory of york' })
    expect(twice).toEqual({ ok: false, refusal: { kind: 'synonym-there', name: 'glory of york' } })
    const own = await addSynonym(database.db, group.helper, { ...name, name: 'Ribston pippin' })
    expect(own).toEqual({ ok: false, refusal: { kind: 'synonym-there', name: 'Ribston pippin' } })
    const synonymId = result.ok ? result.value.synonymId : ''
    expect(await removeSynonym(database.db, group.helper, { synonymId })).toEqual({
      ok: true,
      value: { varietyId: id },
    })
    expect((await getVariety(database.db, group.member, id))?.synonyms).toEqual([])
    const gone = await removeSynonym(database.db, group.helper, { synonymId })
    expect(gone).toEqual({ ok: false, refusal: { kind: 'not-found' } })
  })

  test('are not for members or another group', async () => {
    const id = await added('Blenheim Orange', { synonyms: [{ name: 'Kempster’s Pippin', kind: 'synonym' }] })
    const synonymId = (await getVariety(database.db, group.member, id))?.synonyms[0]?.id ?? ''
    const name = { varietyId: id, name: 'Woodstock Pippin', kind: 'synonym' as const }
    for (const actor of [group.member, elsewhere.organiser]) {
      expect((await addSynonym(database.db, actor, name)).ok).toBe(false)
      expect((await removeSynonym(database.db, actor, { synonymId })).ok).toBe(false)
    }
    expect((await getVariety(database.db, group.member, id))?.synonyms).toHaveLength(1)
  })
})

test('a variety lists the limbs it grows on and counts its lots', async () => {
  const lot = await makeLot(database.db, group, { varietyName: 'Growncut' })
  expect(await getVariety(database.db, group.member, lot.varietyId)).toMatchObject({
    growing: [
      { treeCode: lot.treeCode, mark: 'A', keeperName: 'Mabel Member', identity: 'unknown', goneOn: null },
    ],
    lots: 1,
    attempts: 0,
  })
  const rows = await listVarieties(database.db, group.member, { search: 'growncut' })
  expect(rows.map((row) => row.limbs)).toEqual([1])
  const where = { groupId_id: { groupId: group.groupId, id: lot.treeId } }
  await database.db.prisma.tree.update({
    where,
    data: { goneOn: new Date(`${civilDate('2027-01-01')}T00:00:00Z`) },
  })
  const later = await listVarieties(database.db, group.member, { search: 'growncut' })
  expect(later.map((row) => row.limbs)).toEqual([0])
})

test('the kinds of fruit are offered by their common names', async () => {
  const names = (await taxonChoices(database.db)).map((choice) => choice.commonName.toLowerCase())
  expect(names).toContain('european plum')
  const used = await taxaInUse(database.db, group.member)
  expect(used.find(({ key }) => key === 'citrus-limon')).toMatchObject({ commonName: 'Lemon', varieties: 1 })
})
