import { randomUUID } from 'node:crypto'
import { beforeAll, describe, expect, test } from 'vitest'
import { moveSticks } from '#lib/ledger/move-sticks.ts'
import { addLimb } from '#lib/trees/add-limb.ts'
import { addTree } from '#lib/trees/add-tree.ts'
import { editLimb } from '#lib/trees/edit-limb.ts'
import { getTree } from '#lib/trees/get-tree.ts'
import { attemptHint, graftsWithoutLimb } from '#lib/trees/graft-hints.ts'
import { AddLimbInput, AddTreeInput, EditLimbInput } from '#lib/trees/input.ts'
import { makeGroup, makeLot, type TestGroup, type TestLot } from '#tests/support/actors.ts'
import { testDatabase } from '#tests/support/database.ts'

const database = testDatabase({ now: () => new Date('2027-05-04T10:00:00Z') })
let group: TestGroup
let elsewhere: TestGroup
let lot: TestLot

beforeAll(async () => {
  group = await makeGroup(database.db)
  elsewhere = await makeGroup(database.db, 'Another Circle')
  lot = await makeLot(database.db, group, { varietyName: 'Pershore', cutOn: '2027-01-11' })
})

async function attempt(more: { hostTreeId?: string; withdrawn?: boolean } = {}): Promise<string> {
  const id = database.db.newId()
  await database.db.prisma.attempt.create({
    data: {
      groupId: group.groupId,
      id,
      lotId: lot.lotId,
      varietyId: lot.varietyId,
      growerId: group.otherMember.memberId,
      recordedById: group.otherMember.memberId,
      method: 'cleft',
      madeOn: new Date('2027-03-20T00:00:00Z'),
      pieces: 3,
      sticksUsed: 1,
      hostTreeId: more.hostTreeId ?? null,
      ...(more.withdrawn
        ? { withdrawnAt: new Date('2027-03-21T00:00:00Z'), withdrawReason: 'Entered twice' }
        : {}),
    },
  })
  if (!more.withdrawn) {
    await moveSticks(database.db.prisma, {
      groupId: group.groupId,
      id: database.db.newId(),
      lotId: lot.lotId,
      kind: 'use',
      from: 'store',
      to: 'used',
      sticks: 1,
      happenedAt: new Date('2027-03-20T12:00:00Z'),
      recordedBy: group.otherMember.memberId,
      attemptId: id,
    })
  }
  return id
}

const newTree = (limb: object) =>
  AddTreeInput.parse({ key: randomUUID(), keeperId: group.otherMember.memberId, limbs: [limb] })

const grafted = (fromAttemptId: string, more: object = {}) => ({
  mark: 'A',
  origin: 'grafted',
  identity: 'donor_word',
  varietyId: lot.varietyId,
  fromAttemptId,
  ...more,
})

describe('a limb that came from a recorded graft', () => {
  test('leads back to the lot and the donor tree, and the donor tree leads to it', async () => {
    const attemptId = await attempt()
    const made = await addTree(database.db, group.otherMember, newTree(grafted(attemptId)))
    const code = made.ok ? made.value.code : ''
    const tree = await getTree(database.db, group.member, code)
    expect(tree?.limbs[0]?.from).toEqual({
      attemptId,
      method: 'cleft',
      madeOn: '2027-03-20',
      growerName: 'Otto Other',
      lotCode: lot.code,
      donor: { treeCode: lot.treeCode, mark: 'A', keeperName: 'Mabel Member' },
    })
    const donor = await getTree(database.db, group.member, lot.treeCode)
    expect(donor?.offspring).toContainEqual({
      treeCode: code,
      mark: 'A',
      varietyName: 'Pershore',
      keeperName: 'Otto Other',
      fromMark: 'A',
      goneOn: null,
    })
  })

  test('has the variety of its wood', async () => {
    const other = await makeLot(database.db, group, { varietyName: 'Other Plum' })
    const attemptId = await attempt()
    const result = await addTree(
      database.db,
      group.otherMember,
      newTree(grafted(attemptId, { varietyId: other.varietyId })),
    )
    expect(result).toEqual({ ok: false, refusal: { kind: 'other-variety', variety: 'Pershore' } })
  })

  test('comes from no withdrawn graft and from none of another group', async () => {
    const withdrawn = await attempt({ withdrawn: true })
    expect(await addTree(database.db, group.otherMember, newTree(grafted(withdrawn)))).toEqual({
      ok: false,
      refusal: { kind: 'unknown-attempt' },
    })
    const foreign = AddTreeInput.parse({
      key: randomUUID(),
      keeperId: elsewhere.member.memberId,
      limbs: [{ ...grafted(await attempt()), varietyId: '' }],
    })
    expect(await addTree(database.db, elsewhere.member, foreign)).toEqual({
      ok: false,
      refusal: { kind: 'unknown-attempt' },
    })
  })

  test('has an origin that is known, when it is written and ever after', async () => {
    const attemptId = await attempt()
    const unsure = newTree(grafted(attemptId, { origin: 'unknown' }))
    expect(await addTree(database.db, group.otherMember, unsure)).toMatchObject({
      refusal: { kind: 'origin-is-recorded' },
    })
    const made = await addTree(database.db, group.otherMember, newTree(grafted(attemptId)))
    const limbId = made.ok ? made.value.limbIds[0] : ''
    const edit = EditLimbInput.parse({ limbId, mark: 'A', origin: 'unknown', varietyId: lot.varietyId })
    expect(await editLimb(database.db, group.otherMember, edit)).toMatchObject({
      refusal: { kind: 'origin-is-recorded' },
    })
  })
})

test('grafts on a tree are offered for its limbs until one has grown of them', async () => {
  const made = await addTree(database.db, group.otherMember, newTree({ mark: 'A', origin: 'own' }))
  if (!made.ok) throw new Error(made.refusal.kind)
  const { treeId, code } = made.value
  const attemptId = await attempt({ hostTreeId: treeId })
  await attempt({ hostTreeId: treeId, withdrawn: true })
  const hint = {
    attemptId,
    varietyId: lot.varietyId,
    varietyName: 'Pershore',
    method: 'cleft',
    madeOn: '2027-03-20',
    growerId: group.otherMember.memberId,
    growerName: 'Otto Other',
    hostTreeId: treeId,
    hostTreeCode: code,
  }
  expect(await graftsWithoutLimb(database.db, group.member, treeId)).toEqual([hint])
  expect(await attemptHint(database.db, group.member, attemptId)).toEqual(hint)
  expect(await attemptHint(database.db, elsewhere.member, attemptId)).toBeNull()
  expect(await graftsWithoutLimb(database.db, elsewhere.member, treeId)).toEqual([])
  const limb = AddLimbInput.parse({ key: randomUUID(), treeId, ...grafted(attemptId, { mark: 'B' }) })
  expect((await addLimb(database.db, group.otherMember, limb)).ok).toBe(true)
  expect(await graftsWithoutLimb(database.db, group.member, treeId)).toEqual([])
})
