import { randomUUID } from 'node:crypto'
import { beforeAll, describe, expect, test } from 'vitest'
import type { Actor } from '#lib/access/actor.ts'
import { RecordAttemptInput } from '#lib/attempts/input.ts'
import { getAttempt, listAttempts, receivedWood } from '#lib/attempts/queries.ts'
import { recordAttempt } from '#lib/attempts/record-attempt.ts'
import { attemptsRefusalWords } from '#lib/attempts/refusal-words.ts'
import { civilDate, utcMidnight } from '#lib/kernel/civil-date.ts'
import { verifyLedger } from '#lib/ledger/verify-ledger.ts'
import { giveSticks, holdings } from '#tests/integration/attempts/given.ts'
import { makeGroup, makeLot, type TestGroup } from '#tests/support/actors.ts'
import { testDatabase } from '#tests/support/database.ts'

const database = testDatabase({ now: () => new Date('2026-04-20T10:00:00Z') })
let group: TestGroup

const entry = (fields: Record<string, unknown>) =>
  RecordAttemptInput.parse({
    key: randomUUID(),
    source: 'lot',
    method: 'whip-and-tongue',
    madeOn: '2026-03-20',
    pieces: '4',
    ...fields,
  })

const record = (actor: Actor, fields: Record<string, unknown>) =>
  recordAttempt(database.db, actor, entry(fields))

beforeAll(async () => {
  group = await makeGroup(database.db)
})

describe('recording an attempt', () => {
  test('uses up the sticks that the grower received, as many as there are pieces', async () => {
    const { db } = database
    const { member } = group
    const lot = await makeLot(db, group, { sticks: 10 })
    await giveSticks(db, group, lot, member.memberId, 6)

    const result = await record(member, { lotId: lot.lotId, pieces: '4', stock: 'MM106', skill: 'first_ten' })

    expect(result.ok).toBe(true)
    expect(await holdings(db, lot)).toMatchObject({ [`member:${member.memberId}`]: 2, used: 4, store: 4 })
    const [view] = await listAttempts(db, member)
    expect(view).toMatchObject({ pieces: 4, sticksUsed: 4, stock: 'MM106', standing: null })
    expect((await receivedWood(db, member)).find(({ lotId }) => lotId === lot.lotId)?.sticks).toBe(2)
    expect(await verifyLedger(db, group.groupId)).toEqual([])
  })

  test('makes several pieces of one stick', async () => {
    const { db } = database
    const lot = await makeLot(db, group, { sticks: 3 })
    await giveSticks(db, group, lot, group.member.memberId, 1)

    const result = await record(group.member, { lotId: lot.lotId, pieces: '3' })

    expect(result.ok).toBe(true)
    expect(await holdings(db, lot)).toMatchObject({ used: 1, [`member:${group.member.memberId}`]: 0 })
  })

  test('enters the move at noon of its day in the group’s zone', async () => {
    const { db } = database
    const lot = await makeLot(db, group)
    await giveSticks(db, group, lot, group.member.memberId, 2)
    await record(group.member, { lotId: lot.lotId, madeOn: '2026-04-02', pieces: '2' })
    const move = await db.prisma.move.findFirstOrThrow({
      where: { groupId: group.groupId, lotId: lot.lotId, kind: 'use' },
    })
    expect(move.happenedAt.toISOString()).toBe('2026-04-02T11:00:00.000Z')
  })

  test('changes nothing on the second click, and answers the same', async () => {
    const { db } = database
    const lot = await makeLot(db, group)
    await giveSticks(db, group, lot, group.member.memberId, 6)
    const input = entry({ lotId: lot.lotId, pieces: '3' })

    const first = await recordAttempt(db, group.member, input)
    const second = await recordAttempt(db, group.member, input)

    expect(second).toEqual(first)
    expect(await holdings(db, lot)).toMatchObject({ used: 3 })
  })

  test('refuses a key that comes back with other entries', async () => {
    const key = randomUUID()
    const lot = await makeLot(database.db, group)
    await giveSticks(database.db, group, lot, group.member.memberId, 6)
    await record(group.member, { key, lotId: lot.lotId, pieces: '1' })
    expect(await record(group.member, { key, lotId: lot.lotId, pieces: '2' })).toEqual({
      ok: false,
      refusal: { kind: 'key-reused' },
    })
  })

  test('refuses more sticks than the grower has, and says how many are left', async () => {
    const lot = await makeLot(database.db, group)
    await giveSticks(database.db, group, lot, group.member.memberId, 2)
    const result = await record(group.member, { lotId: lot.lotId, pieces: '5', sticksUsed: '3' })
    expect(result).toMatchObject({ ok: false, refusal: { kind: 'not-enough-sticks', left: 2 } })
    expect(await holdings(database.db, lot)).toMatchObject({ [`member:${group.member.memberId}`]: 2 })
  })

  test('refuses a day that has not come, and a day before the wood was cut', async () => {
    const lot = await makeLot(database.db, group, { cutOn: '2026-02-01' })
    await giveSticks(database.db, group, lot, group.member.memberId, 2)
    expect(await record(group.member, { lotId: lot.lotId, madeOn: '2026-04-21' })).toEqual({
      ok: false,
      refusal: { kind: 'in-future', today: '2026-04-20' },
    })
    expect(await record(group.member, { lotId: lot.lotId, madeOn: '2026-01-31' })).toEqual({
      ok: false,
      refusal: { kind: 'before-cut', code: lot.code, cutOn: '2026-02-01' },
    })
  })

  test('takes a keeper’s own wood from the store without a claim', async () => {
    const lot = await makeLot(database.db, group, { sticks: 5 })
    const result = await record(group.member, { lotId: lot.lotId, pieces: '2' })
    expect(result.ok).toBe(true)
    expect(await holdings(database.db, lot)).toMatchObject({ store: 3, used: 2 })
  })

  test('refuses wood that was neither received nor one’s own', async () => {
    const lot = await makeLot(database.db, group)
    const result = await record(group.otherMember, { lotId: lot.lotId })
    expect(result).toEqual({ ok: false, refusal: { kind: 'not-received', code: lot.code } })
  })

  test('lets nothing out of the store while the wood is on hold, but records what was received before', async () => {
    const { db } = database
    const lot = await makeLot(db, group, { sticks: 5 })
    await giveSticks(db, group, lot, group.otherMember.memberId, 2)
    await db.prisma.healthHold.create({
      data: {
        groupId: group.groupId,
        id: db.newId(),
        limbId: lot.limbId,
        reason: 'canker seen',
        placedById: group.steward.memberId,
        placedAt: db.now(),
      },
    })
    expect(await record(group.member, { lotId: lot.lotId })).toMatchObject({
      ok: false,
      refusal: { kind: 'held', reason: 'canker seen' },
    })
    const truth = await record(group.otherMember, { lotId: lot.lotId, pieces: '2' })
    expect(truth.ok).toBe(true)
    if (!truth.ok) return
    expect((await getAttempt(db, group.otherMember, truth.value.attemptId))?.isHeld).toBe(true)
  })

  test('refuses wood without a variety name', async () => {
    const { db } = database
    const lot = await makeLot(db, group)
    await db.prisma.limb.update({
      where: { groupId_id: { groupId: group.groupId, id: lot.limbId } },
      data: { varietyId: null },
    })
    expect(await record(group.member, { lotId: lot.lotId })).toMatchObject({
      ok: false,
      refusal: { kind: 'wood-without-name' },
    })
  })
})

describe('own wood', () => {
  test('comes from a limb of one’s own tree and moves no stick', async () => {
    const lot = await makeLot(database.db, group)
    const result = await record(group.member, { source: 'own', fromLimbId: lot.limbId, pieces: '2' })
    expect(result.ok).toBe(true)
    if (!result.ok) return
    const view = await getAttempt(database.db, group.member, result.value.attemptId)
    expect(view).toMatchObject({ lot: null, sticksUsed: 0, varietyId: lot.varietyId, ownLimb: { mark: 'A' } })
  })

  test('may be a variety alone', async () => {
    const lot = await makeLot(database.db, group)
    const result = await record(group.otherMember, { source: 'own', varietyId: lot.varietyId })
    expect(result.ok).toBe(true)
  })

  test('is not taken from somebody else’s limb, nor under another variety’s name', async () => {
    const [one, two] = [await makeLot(database.db, group), await makeLot(database.db, group)]
    expect(await record(group.otherMember, { source: 'own', fromLimbId: one.limbId })).toMatchObject({
      ok: false,
      refusal: { kind: 'not-found' },
    })
    expect(
      await record(group.member, { source: 'own', fromLimbId: one.limbId, varietyId: two.varietyId }),
    ).toMatchObject({ ok: false, refusal: { kind: 'variety-differs' } })
  })

  test('asks for the limb or the variety', () => {
    const parsed = RecordAttemptInput.safeParse({
      key: randomUUID(),
      source: 'own',
      method: 'cleft',
      madeOn: '2026-03-20',
      pieces: '1',
    })
    expect(parsed.success).toBe(false)
    expect(parsed.error?.issues.map(({ path }) => path)).toEqual([['varietyId']])
  })
})

describe('recording for others', () => {
  test('is open to helpers, also for people without an account, and is noted as such', async () => {
    const { db } = database
    const { groupId } = group
    const growerId = db.newId()
    await db.prisma.member.create({
      data: {
        groupId,
        id: growerId,
        displayName: 'Nell Noaccount',
        joinedOn: utcMidnight(civilDate('2026-01-01')),
      },
    })
    const lot = await makeLot(db, group)
    await giveSticks(db, group, lot, growerId, 2)
    const result = await record(group.helper, { growerId, lotId: lot.lotId, pieces: '2' })
    expect(result.ok).toBe(true)
    if (!result.ok) return
    expect(await listAttempts(db, group.helper, { growerId })).toHaveLength(1)
    const audit = await db.prisma.auditEntry.findFirstOrThrow({
      where: { groupId, subject: `attempt:${result.value.attemptId}` },
    })
    expect(audit).toMatchObject({
      action: 'record-attempt',
      onBehalfOf: growerId,
      actorId: group.helper.memberId,
    })
  })

  test('is refused to a member, who also sees nothing of theirs', async () => {
    const lot = await makeLot(database.db, group)
    const result = await record(group.otherMember, { growerId: group.member.memberId, lotId: lot.lotId })
    expect(result).toMatchObject({ ok: false, refusal: { kind: 'not-allowed', right: 'act-for-others' } })
    expect(await listAttempts(database.db, group.otherMember, { growerId: group.member.memberId })).toEqual(
      [],
    )
    expect(await receivedWood(database.db, group.otherMember, group.member.memberId)).toEqual([])
  })

  test('is refused for somebody who is not in the group', async () => {
    const lot = await makeLot(database.db, group)
    const result = await record(group.helper, { growerId: randomUUID(), lotId: lot.lotId })
    expect(result).toEqual({ ok: false, refusal: { kind: 'not-found' } })
  })
})

describe('another group', () => {
  test('neither its lots, limbs, trees and varieties nor its attempts can be reached', async () => {
    const { db } = database
    const elsewhere = await makeGroup(db, 'Elsewhere')
    const lot = await makeLot(db, elsewhere)
    const own = await makeLot(db, group)
    const notFound = { ok: false, refusal: { kind: 'not-found' } }
    expect(await record(group.organiser, { lotId: lot.lotId })).toEqual(notFound)
    expect(await record(group.organiser, { source: 'own', fromLimbId: lot.limbId })).toEqual(notFound)
    expect(await record(group.organiser, { source: 'own', varietyId: lot.varietyId })).toEqual(notFound)
    expect(
      await record(group.organiser, { source: 'own', varietyId: own.varietyId, hostTreeId: lot.treeId }),
    ).toEqual(notFound)
    const theirs = await recordAttempt(db, elsewhere.member, entry({ lotId: lot.lotId, pieces: '1' }))
    expect(theirs.ok).toBe(true)
    if (!theirs.ok) return
    expect(await getAttempt(db, group.organiser, theirs.value.attemptId)).toBeNull()
    expect(await getAttempt(db, elsewhere.member, theirs.value.attemptId)).not.toBeNull()
  })
})

test('every refusal is said in words with a next step', () => {
  const day = civilDate('2026-04-20')
  const refusals = [
    { kind: 'in-future', today: day },
    { kind: 'before-cut', code: 'ABCDEF', cutOn: day },
    { kind: 'not-received', code: 'ABCDEF' },
    { kind: 'wood-without-name' },
    { kind: 'variety-differs', variety: 'Bramley' },
    { kind: 'withdrawn', reason: 'twice' },
    { kind: 'became-limb', treeCode: 'ABCDEF' },
    { kind: 'before-attempt', madeOn: day },
    { kind: 'does-not-add-up', pieces: 4, sum: 3 },
    { kind: 'too-many-causes', dead: 1, named: 2 },
    { kind: 'already-corrected' },
    { kind: 'not-found' },
  ] as const
  for (const refusal of refusals) {
    const words = attemptsRefusalWords(refusal)
    expect(words.message.length).toBeGreaterThan(10)
    expect(words.next.length).toBeGreaterThan(0)
  }
})
