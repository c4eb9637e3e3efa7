import { randomUUID } from 'node:crypto'
import { beforeAll, describe, expect, test } from 'vitest'
import type { Actor } from '#lib/access/actor.ts'
import { codeAlphabet, parseCode } from '#lib/grafting/codes.ts'
import { civilDate } from '#lib/kernel/civil-date.ts'
import { addLimb } from '#lib/trees/add-limb.ts'
import { addTree } from '#lib/trees/add-tree.ts'
import { editLimb } from '#lib/trees/edit-limb.ts'
import { editTree } from '#lib/trees/edit-tree.ts'
import { getTree } from '#lib/trees/get-tree.ts'
import { AddLimbInput, AddTreeInput, EditLimbInput } from '#lib/trees/input.ts'
import { issueCode } from '#lib/trees/issue-code.ts'
import { limbChoices, listTrees, treeChoices } from '#lib/trees/queries.ts'
import { recordGone } from '#lib/trees/record-gone.ts'
import { recordStillHere } from '#lib/trees/record-still-here.ts'
import { anyCode, makeGroup, makeLot, type TestGroup } from '#tests/support/actors.ts'
import { testDatabase } from '#tests/support/database.ts'

const database = testDatabase({ now: () => new Date('2027-02-04T10:00:00Z') })
const today = civilDate('2027-02-04')
let group: TestGroup
let elsewhere: TestGroup
let varietyId: string
let otherVarietyId: string

beforeAll(async () => {
  group = await makeGroup(database.db)
  elsewhere = await makeGroup(database.db, 'Another Circle')
  varietyId = await variety(group, 'Mirabelle de Nancy', 'mirabelledenancy')
  otherVarietyId = await variety(elsewhere, 'Elsewhere', 'elsewhere')
})

async function variety(owner: TestGroup, name: string, nameKey: string): Promise<string> {
  await database.db.prisma.taxon.upsert({
    where: { key: 'prunus-domestica' },
    update: {},
    create: {
      key: 'prunus-domestica',
      genus: 'Prunus',
      species: 'domestica',
      commonName: 'European plum',
      family: 'Rosaceae',
      storageProfile: 'plum_european',
    },
  })
  const id = database.db.newId()
  await database.db.prisma.variety.create({
    data: { groupId: owner.groupId, id, taxonKey: 'prunus-domestica', name, nameKey },
  })
  return id
}

const ownLimb = { mark: 'A', origin: 'own', identity: 'nursery_tag' }
const treeInput = (more: object = {}) =>
  AddTreeInput.parse({
    key: randomUUID(),
    keeperId: group.member.memberId,
    limbs: [{ ...ownLimb, varietyId }],
    ...more,
  })

async function planted(actor: Actor = group.member, more: object = {}) {
  const result = await addTree(database.db, actor, treeInput(more))
  if (!result.ok) throw new Error(result.refusal.kind)
  return result.value
}

const limbOf = async (code: string, mark: string) => {
  const tree = await getTree(database.db, group.member, code)
  const limb = tree?.limbs.find((candidate) => candidate.mark === mark)
  if (!limb) throw new Error(`No limb ${mark}`)
  return limb
}

describe('codes', () => {
  test('are valid, and a code that was drawn before is drawn again', async () => {
    const draws = [0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 1, 0, 0, 0, 0]
    let next = 0
    const drawn = () => draws[next++] ?? 0
    const { db } = database
    const first = await issueCode(db.prisma, db, group.groupId, 'tree', drawn)
    const second = await issueCode(db.prisma, db, group.groupId, 'lot', drawn)
    expect(first).toBe('222222')
    expect(second).not.toBe(first)
    expect(next).toBe(15)
    expect(parseCode(first).ok && parseCode(second).ok).toBe(true)
    const rows = await db.prisma.issuedCode.findMany({ where: { groupId: group.groupId, code: second } })
    expect(rows.map((row) => row.kind)).toEqual(['lot'])
  })

  test('a source that only ever draws the same ends in a defect, not in a code given twice', async () => {
    const { db } = database
    const { groupId } = elsewhere
    await issueCode(db.prisma, db, groupId, 'tree', () => codeAlphabet.length - 1)
    await expect(issueCode(db.prisma, db, groupId, 'tree', () => codeAlphabet.length - 1)).rejects.toThrow(
      'No free code',
    )
  })

  test('the code of a tree that could not be written stays free', async () => {
    const before = await database.db.prisma.issuedCode.count({ where: { groupId: group.groupId } })
    const input = treeInput({ limbs: [{ ...ownLimb, varietyId: otherVarietyId }] })
    expect(await addTree(database.db, group.member, input)).toMatchObject({
      refusal: { kind: 'unknown-variety' },
    })
    expect(await database.db.prisma.issuedCode.count({ where: { groupId: group.groupId } })).toBe(before)
  })
})

describe('adding a tree', () => {
  test('gives it a code and its limbs from the ground up', async () => {
    const { code, limbIds } = await planted(group.member, {
      rootstock: 'St Julien A',
      place: 'Corner plot',
      plantedOn: '2014-11-20',
      limbs: [
        { ...ownLimb, mark: 'b', heightCm: '130', side: 'west', origin: 'grafted', varietyId },
        { ...ownLimb, mark: 'a', heightInches: '31.5', varietyId },
        { mark: 'c', origin: 'unknown', identity: 'fruited_true' },
      ],
    })
    expect(limbIds).toHaveLength(3)
    const tree = await getTree(database.db, group.otherMember, code.toLowerCase())
    expect(tree).toMatchObject({
      keeper: { name: 'Mabel Member' },
      rootstock: 'St Julien A',
      plantedOn: '2014-11-20',
      mayEdit: false,
      lots: [],
      offspring: [],
    })
    expect(tree?.limbs.map(({ mark, heightCm, identity }) => [mark, heightCm, identity])).toEqual([
      ['A', 80, 'nursery_tag'],
      ['B', 130, 'nursery_tag'],
      // A limb without a name has no grade.
      ['C', null, 'unknown'],
    ])
  })

  test('for somebody else takes the right to act for others', async () => {
    const byMember = await addTree(database.db, group.otherMember, treeInput())
    expect(byMember).toMatchObject({ ok: false, refusal: { right: 'act-for-others' } })
    const { code } = await planted(group.helper)
    const entry = await database.db.prisma.auditEntry.findFirst({ where: { subject: `tree:${code}` } })
    expect(entry).toMatchObject({ actorId: group.helper.memberId, onBehalfOf: group.member.memberId })
  })

  test('the second click adds nothing', async () => {
    const input = treeInput()
    const first = await addTree(database.db, group.member, input)
    expect(await addTree(database.db, group.member, input)).toEqual(first)
    const other = await addTree(database.db, group.member, { ...input, place: 'Elsewhere' })
    expect(other).toEqual({ ok: false, refusal: { kind: 'key-reused' } })
  })

  test('refuses a keeper of another group, and days that are still to come', async () => {
    const input = treeInput({ keeperId: elsewhere.member.memberId })
    expect(await addTree(database.db, group.helper, input)).toMatchObject({
      refusal: { kind: 'unknown-keeper' },
    })
    const ahead = treeInput({ plantedOn: '2027-02-05' })
    expect(await addTree(database.db, group.member, ahead)).toEqual({
      ok: false,
      refusal: { kind: 'day-ahead', what: 'planted', today },
    })
  })

  test('two limbs with one letter are refused at the second', () => {
    const limbs = [
      { ...ownLimb, mark: 'a' },
      { ...ownLimb, mark: 'A' },
    ]
    const parsed = AddTreeInput.safeParse({ key: randomUUID(), keeperId: group.member.memberId, limbs })
    expect(parsed.error?.issues.map((issue) => issue.path.join('.'))).toEqual(['limbs.1.mark'])
    const none = AddTreeInput.safeParse({ key: randomUUID(), keeperId: group.member.memberId, limbs: [] })
    expect(none.error?.issues[0]?.message).toBe('A tree has at least one limb')
  })
})

describe('who may change a tree', () => {
  const cases = [
    ['its keeper', () => group.member, true],
    ['a steward', () => group.steward, true],
    ['an organiser', () => group.organiser, true],
    ['a helper', () => group.helper, false],
    ['another member', () => group.otherMember, false],
    ['an organiser of another group', () => elsewhere.organiser, false],
  ] as const

  test.each(cases)('%s', async (_who, actorOf, allowed) => {
    const actor = actorOf()
    const { treeId, limbIds } = await planted()
    const limbId = limbIds[0] ?? ''
    const results = [
      await addLimb(
        database.db,
        actor,
        AddLimbInput.parse({ key: randomUUID(), treeId, mark: 'B', origin: 'own' }),
      ),
      await editLimb(
        database.db,
        actor,
        EditLimbInput.parse({ limbId, ...ownLimb, varietyId, healthNote: 'Fine' }),
      ),
      await editTree(database.db, actor, { treeId, keeperId: group.member.memberId, place: 'Row 2' }),
      await recordGone(database.db, actor, { treeId, goneOn: today }),
      await recordStillHere(database.db, actor, { treeId }),
    ]
    if (allowed) {
      expect(results.map((result) => result.ok)).toEqual([true, true, true, true, true])
      return
    }
    const kind = actor.groupId === group.groupId ? 'not-your-tree' : 'not-found'
    for (const result of results) expect(result).toMatchObject({ ok: false, refusal: { kind } })
  })
})

describe('limbs', () => {
  test('a letter is given once on a tree', async () => {
    const { treeId, code } = await planted()
    const limb = AddLimbInput.parse({ key: randomUUID(), treeId, mark: 'B', origin: 'grafted', varietyId })
    const added = await addLimb(database.db, group.member, limb)
    expect(added).toMatchObject({ ok: true, value: { code } })
    expect(await addLimb(database.db, group.member, limb)).toEqual(added)
    const twice = await addLimb(database.db, group.member, { ...limb, key: randomUUID() })
    expect(twice).toEqual({ ok: false, refusal: { kind: 'mark-taken', mark: 'B' } })
    const a = await limbOf(code, 'A')
    const renamed = await editLimb(
      database.db,
      group.member,
      EditLimbInput.parse({ ...ownLimb, limbId: a.limbId, mark: 'b', varietyId }),
    )
    expect(renamed).toEqual({ ok: false, refusal: { kind: 'mark-taken', mark: 'B' } })
  })

  test('naming an unnamed limb puts both names into the log', async () => {
    const { code, limbIds } = await planted(group.member, { limbs: [{ mark: 'A', origin: 'own' }] })
    expect((await limbOf(code, 'A')).variety).toBeNull()
    const named = await editLimb(
      database.db,
      group.member,
      EditLimbInput.parse({ ...ownLimb, limbId: limbIds[0], varietyId, identity: 'expert' }),
    )
    expect(named.ok).toBe(true)
    expect(await limbOf(code, 'A')).toMatchObject({
      variety: { name: 'Mirabelle de Nancy', commonName: 'European plum' },
      identity: 'expert',
    })
    const entry = await database.db.prisma.auditEntry.findFirst({
      where: { subject: `tree:${code}`, action: 'name-limb' },
    })
    expect(entry?.detail).toEqual({ mark: 'A', nameBefore: null, name: 'Mirabelle de Nancy' })
  })

  test('a day in leaf that is still to come, and a variety of another group, are refused', async () => {
    const { treeId } = await planted()
    const limb = AddLimbInput.parse({ key: randomUUID(), treeId, mark: 'B', origin: 'own' })
    const ahead = await addLimb(database.db, group.member, { ...limb, seenInLeafOn: civilDate('2027-06-01') })
    expect(ahead).toMatchObject({ refusal: { kind: 'day-ahead', what: 'seen in leaf' } })
    const foreign = await addLimb(database.db, group.member, { ...limb, varietyId: otherVarietyId })
    expect(foreign).toEqual({ ok: false, refusal: { kind: 'unknown-variety' } })
  })
})

describe('gone', () => {
  test('a limb goes and comes back alone', async () => {
    const { treeId, code, limbIds } = await planted(group.member, {
      limbs: [ownLimb, { ...ownLimb, mark: 'B' }],
    })
    const limbId = limbIds[1] ?? ''
    const gone = await recordGone(database.db, group.member, { treeId, limbId, goneOn: today })
    expect(gone.ok).toBe(true)
    expect([(await limbOf(code, 'A')).goneOn, (await limbOf(code, 'B')).goneOn]).toEqual([null, today])
    const twice = await recordGone(database.db, group.member, { treeId, limbId, goneOn: today })
    expect(twice).toEqual({ ok: false, refusal: { kind: 'is-gone', goneOn: today } })
    expect((await recordStillHere(database.db, group.member, { treeId, limbId })).ok).toBe(true)
    const still = await recordStillHere(database.db, group.member, { treeId, limbId })
    expect(still).toEqual({ ok: false, refusal: { kind: 'still-here' } })
    const strange = await recordGone(database.db, group.member, {
      treeId,
      limbId: database.db.newId(),
      goneOn: today,
    })
    expect(strange).toEqual({ ok: false, refusal: { kind: 'not-found' } })
  })

  test('with a tree go its limbs, and those that went before stay gone when it comes back', async () => {
    const { treeId, code, limbIds } = await planted(group.member, {
      limbs: [ownLimb, { ...ownLimb, mark: 'B' }],
    })
    const earlier = civilDate('2026-12-01')
    await recordGone(database.db, group.member, { treeId, limbId: limbIds[1], goneOn: earlier })
    await recordGone(database.db, group.member, { treeId, goneOn: today })
    expect([(await limbOf(code, 'A')).goneOn, (await limbOf(code, 'B')).goneOn]).toEqual([today, earlier])
    const limb = AddLimbInput.parse({ key: randomUUID(), treeId, mark: 'C', origin: 'own' })
    expect(await addLimb(database.db, group.member, limb)).toMatchObject({ refusal: { kind: 'tree-gone' } })
    const oneLimb = await recordStillHere(database.db, group.member, { treeId, limbId: limbIds[0] })
    expect(oneLimb).toMatchObject({ refusal: { kind: 'tree-gone' } })
    await recordStillHere(database.db, group.member, { treeId })
    expect([(await limbOf(code, 'A')).goneOn, (await limbOf(code, 'B')).goneOn]).toEqual([null, earlier])
  })

  test('is refused ahead of time and before planting', async () => {
    const { treeId } = await planted(group.member, { plantedOn: '2014-11-20' })
    const ahead = await recordGone(database.db, group.member, { treeId, goneOn: civilDate('2027-02-05') })
    expect(ahead).toMatchObject({ refusal: { kind: 'day-ahead' } })
    const early = await recordGone(database.db, group.member, { treeId, goneOn: civilDate('2014-11-19') })
    expect(early).toEqual({ ok: false, refusal: { kind: 'gone-before-planting', plantedOn: '2014-11-20' } })
  })
})

describe('lists', () => {
  test('a search finds a tree by variety, other name, place, keeper and code, whatever the accents', async () => {
    const sort = await variety(group, 'Reine Claude Verte', 'reineclaudeverte')
    await database.db.prisma.varietySynonym.create({
      data: {
        groupId: group.groupId,
        id: database.db.newId(),
        varietyId: sort,
        name: 'Große Grüne',
        nameKey: 'grossegrune',
      },
    })
    const { code } = await planted(group.steward, {
      keeperId: group.steward.memberId,
      place: 'By the dovecote',
      limbs: [{ ...ownLimb, varietyId: sort }],
    })
    const halves = `${code.slice(0, 3)}-${code.slice(3)}`
    for (const search of ['reine-claude', 'GROSSE grüne', 'dovecote', 'stan st', code, halves]) {
      const { rows } = await listTrees(database.db, group.member, { search })
      expect(rows.map((row) => row.code)).toEqual([code])
    }
    expect((await listTrees(database.db, group.member, { search: 'no such' })).rows).toEqual([])
    const byKeeper = await listTrees(database.db, group.member, { keeper: group.steward.memberId })
    expect(byKeeper).toMatchObject({ total: 1, page: 1, pages: 1, rows: [{ code }] })
  })

  test('another group sees no tree, limb or keeper', async () => {
    const { code } = await planted()
    expect((await listTrees(database.db, elsewhere.organiser)).total).toBe(0)
    expect(await getTree(database.db, elsewhere.organiser, code)).toBeNull()
    expect(await limbChoices(database.db, elsewhere.organiser)).toEqual([])
    expect(await treeChoices(database.db, elsewhere.organiser)).toEqual([])
  })

  test('what is gone is offered in no form, what is on hold is marked', async () => {
    const { treeId, code, limbIds } = await planted(group.member, {
      limbs: [
        { ...ownLimb, varietyId },
        { ...ownLimb, mark: 'B' },
        { ...ownLimb, mark: 'C' },
      ],
    })
    await recordGone(database.db, group.member, { treeId, limbId: limbIds[1], goneOn: today })
    await database.db.prisma.healthHold.create({
      data: {
        groupId: group.groupId,
        id: database.db.newId(),
        limbId: limbIds[2] ?? null,
        reason: 'Canker seen',
        placedById: group.steward.memberId,
        placedAt: database.db.now(),
      },
    })
    const choices = async () =>
      (await limbChoices(database.db, group.member, { keeperId: group.member.memberId })).filter(
        (choice) => choice.treeCode === code,
      )
    expect((await choices()).map(({ mark, varietyName, onHold }) => [mark, varietyName, onHold])).toEqual([
      ['A', 'Mirabelle de Nancy', false],
      ['C', null, true],
    ])
    expect(await limbOf(code, 'C')).toMatchObject({ hold: { reason: 'Canker seen', placedOn: today } })
    const row = (await listTrees(database.db, group.member, { search: code })).rows[0]
    expect(row).toMatchObject({ onHold: true, limbs: [{ mark: 'A' }, { mark: 'C' }] })
    const trees = await treeChoices(database.db, group.member)
    expect(trees.find((tree) => tree.code === code)?.varieties).toEqual(['Mirabelle de Nancy'])
    await recordGone(database.db, group.member, { treeId, goneOn: today })
    expect(await choices()).toEqual([])
    expect((await listTrees(database.db, group.member, { gone: true, search: code })).rows).toMatchObject([
      { code, goneOn: today, limbs: [{ mark: 'A' }, { mark: 'B' }, { mark: 'C' }] },
    ])
  })
})

test('handing a tree to somebody else takes a member of the group', async () => {
  const { treeId, code } = await planted()
  const foreign = await editTree(database.db, group.member, { treeId, keeperId: elsewhere.member.memberId })
  expect(foreign).toEqual({ ok: false, refusal: { kind: 'unknown-keeper' } })
  const given = await editTree(database.db, group.member, { treeId, keeperId: group.otherMember.memberId })
  expect(given.ok).toBe(true)
  expect((await getTree(database.db, group.otherMember, code))?.mayEdit).toBe(true)
  const back = await editTree(database.db, group.member, { treeId, keeperId: group.member.memberId })
  expect(back).toEqual({ ok: false, refusal: { kind: 'not-your-tree', keeper: 'Otto Other' } })
})

test('a tree shows the lots that were cut from it, with the sticks that were cut', async () => {
  const lot = await makeLot(database.db, group, { sticks: 14, cutOn: '2027-01-11' })
  const older = await makeLot(database.db, group, { sticks: 3, cutOn: '2026-01-10' })
  const tree = await getTree(database.db, group.member, lot.treeCode)
  expect(tree?.lots).toEqual([
    { code: lot.code, mark: 'A', cutOn: '2027-01-11', kind: 'scion_wood', sticks: 14 },
  ])
  expect(tree?.limbs[0]).toMatchObject({ isDonor: true, lots: 1 })
  const before = await getTree(database.db, group.member, older.treeCode)
  expect(before?.limbs[0]).toMatchObject({ isDonor: false, lots: 1 })
  expect(await getTree(database.db, group.member, anyCode())).toBeNull()
})
