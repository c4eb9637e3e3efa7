import { randomUUID } from 'node:crypto'
import { beforeEach, describe, expect, test } from 'vitest'
import type { Actor } from '#lib/access/actor.ts'
import { warningsBefore } from '#lib/attempts/attempt-warnings.ts'
import { RecordBatchInput } from '#lib/attempts/batch-input.ts'
import { RecordAttemptInput } from '#lib/attempts/input.ts'
import { getAttempt, listAttempts, receivedWood } from '#lib/attempts/queries.ts'
import { recordBatch } from '#lib/attempts/record-batch.ts'
import { batchRefusalWords } from '#lib/attempts/refusal-words.ts'
import { required } from '#lib/kernel/assert.ts'
import { giveSticks, holdings } from '#tests/integration/attempts/given.ts'
import { makeGroup, makeLot, type TestGroup, type TestLot } from '#tests/support/actors.ts'
import { testDatabase } from '#tests/support/database.ts'

const database = testDatabase({ now: () => new Date('2026-04-20T10:00:00Z') })
let group: TestGroup
let lot: TestLot
let host: TestLot

beforeEach(async () => {
  const { db } = database
  group = await makeGroup(db)
  lot = await makeLot(db, group, { sticks: 12 })
  host = await makeLot(db, group)
  await giveSticks(db, group, lot, group.member.memberId, 8)
})

const morning = (fields: Record<string, unknown> = {}) =>
  RecordBatchInput.parse({
    key: randomUUID(),
    madeOn: '2026-04-18',
    method: 'cleft',
    wrap: 'tape',
    rows: [
      { wood: `lot:${lot.lotId}`, pieces: '3', host: `limb:${host.limbId}` },
      { wood: '', pieces: '2', host: `tree:${host.treeId}`, method: 'bark' },
      { wood: '', pieces: '', host: '' },
      { wood: `variety:${host.varietyId}`, pieces: '4', stock: 'MM106' },
    ],
    ...fields,
  })
const record = (actor: Actor, fields: Record<string, unknown> = {}) =>
  recordBatch(database.db, actor, morning(fields))
const made = async (actor = group.member) => (await listAttempts(database.db, actor)).toReversed()

describe('a morning’s work', () => {
  test('is recorded row by row, in its order, with its sticks moved', async () => {
    const result = await record(group.member)
    const ids = required(result.ok ? result.value.attemptIds : null, 'the entries')
    expect(ids).toHaveLength(3)
    expect(await made()).toMatchObject([
      {
        pieces: 3,
        sticksUsed: 3,
        method: { key: 'cleft' },
        hostTreeCode: host.treeCode,
        hostLimbMark: 'A',
        wrap: 'tape',
      },
      { pieces: 2, sticksUsed: 2, method: { key: 'bark' }, hostTreeCode: host.treeCode, hostLimbMark: null },
      { pieces: 4, sticksUsed: 0, method: { key: 'cleft' }, hostTreeCode: null, stock: 'MM106', lot: null },
    ])
    expect(await holdings(database.db, lot)).toMatchObject({
      used: 5,
      [`member:${group.member.memberId}`]: 3,
    })
    const second = await getAttempt(database.db, group.member, required(ids[1], 'the second'))
    expect(second?.batch).toEqual({ place: 2, of: 3 })
    expect(second?.lot?.id).toBe(lot.lotId)
  })

  test('is recorded whole or not at all, and says which row it was', async () => {
    const rows = [
      { wood: `lot:${lot.lotId}`, pieces: '3' },
      { wood: '', pieces: '' },
      { wood: '', pieces: '9', sticksUsed: '9' },
    ]
    const result = await record(group.member, { rows })
    expect(result).toMatchObject({ ok: false })
    expect(await made()).toEqual([])
    expect((await receivedWood(database.db, group.member))[0]?.sticks).toBe(8)
    const unreceived = await makeLot(database.db, group)
    const stranger = await record(group.otherMember, {
      rows: [
        { wood: `variety:${host.varietyId}`, pieces: '1' },
        { wood: '', pieces: '' },
        { wood: `lot:${unreceived.lotId}`, pieces: '1' },
      ],
    })
    expect(stranger).toMatchObject({ refusal: { kind: 'in-row', row: 3, refusal: { kind: 'not-received' } } })
    if (!stranger.ok) expect(batchRefusalWords(stranger.refusal).message).toMatch(/^Row 3: /)
    expect(await made(group.otherMember)).toEqual([])
  })

  test('is there once after a second click', async () => {
    const input = morning()
    const first = await recordBatch(database.db, group.member, input)
    expect(await recordBatch(database.db, group.member, input)).toEqual(first)
    expect(await made()).toHaveLength(3)
  })

  test('is entered by a helper for a newcomer without an account, not by another member', async () => {
    const { db } = database
    const memberId = db.newId()
    await db.prisma.member.create({
      data: { groupId: group.groupId, id: memberId, displayName: 'Ash', joinedOn: db.now() },
    })
    const rows = [{ wood: `variety:${host.varietyId}`, pieces: '2' }]
    expect((await record(group.helper, { growerId: memberId, rows })).ok).toBe(true)
    const attempts = await listAttempts(db, group.helper, { growerId: memberId })
    expect(attempts).toMatchObject([{ grower: { name: 'Ash' }, pieces: 2 }])
    expect(await record(group.otherMember, { growerId: memberId, rows })).toMatchObject({
      refusal: { kind: 'in-row', refusal: { kind: 'not-allowed' } },
    })
  })

  test('reaches no tree, limb or wood of another group', async () => {
    const elsewhere = await makeGroup(database.db)
    const theirs = await makeLot(database.db, elsewhere)
    for (const row of [
      { wood: `lot:${theirs.lotId}`, pieces: '1' },
      { wood: `variety:${theirs.varietyId}`, pieces: '1' },
      { wood: `limb:${theirs.limbId}`, pieces: '1' },
      { wood: `variety:${host.varietyId}`, pieces: '1', host: `limb:${theirs.limbId}` },
      { wood: `variety:${host.varietyId}`, pieces: '1', host: `tree:${theirs.treeId}` },
    ]) {
      expect(await record(group.member, { rows: [row] })).toMatchObject({
        refusal: { kind: 'in-row', row: 1, refusal: { kind: 'not-found' } },
      })
    }
  })

  test('asks for wood in its first row, for numbers where there is wood, and for something at all', () => {
    const faults = (rows: unknown[]) => {
      const parsed = RecordBatchInput.safeParse({ ...morning(), rows })
      return parsed.success ? [] : parsed.error.issues.map(({ path }) => path.join('.'))
    }
    expect(faults([{ wood: '', pieces: '2' }])).toEqual(['rows.0.wood'])
    expect(
      faults([
        { wood: `lot:${lot.lotId}`, pieces: '2' },
        { wood: `lot:${lot.lotId}`, pieces: '' },
      ]),
    ).toEqual(['rows.1.pieces'])
    expect(faults([{ wood: '', pieces: '' }])).toEqual(['rows.0.pieces'])
    expect(faults([{ wood: 'lot:somewhere', pieces: '1' }])).toEqual(['rows.0.wood'])
  })
})

describe('what to think of first', () => {
  const meant = (fields: Record<string, unknown>) =>
    RecordAttemptInput.parse({
      key: randomUUID(),
      source: 'own',
      varietyId: lot.varietyId,
      method: 'cleft',
      madeOn: '2026-04-18',
      pieces: 2,
      ...fields,
    })
  const warn = async (fields: Record<string, unknown>) =>
    (await warningsBefore(database.db, group.member, meant(fields))).map(({ words }) => words).join(' ')

  test('is nothing for apple on a stock of apple in its season', async () => {
    expect(await warn({ stock: 'MM106' })).toBe('')
  })

  test('is said of a stock that does not go with it, with what that leans on', async () => {
    const warnings = await warningsBefore(database.db, group.member, meant({ stock: 'Quince A' }))
    expect(warnings[0]?.words).toMatch(/^Scion and stock: do not go together/)
    expect(warnings[0]?.basis).toBeTruthy()
    expect(await warn({ host: `limb:${host.limbId}` })).toBe('')
  })

  test('is said of bark that has to slip, and of the wrong season', async () => {
    expect(await warn({ method: 'bark', stock: 'MM106' })).toMatch(/bark of the stock must lift/)
    expect(await warn({ madeOn: '2025-11-18', stock: 'MM106' })).toMatch(/not the usual time of year/)
    expect(await warn({ method: 'hardwood-cutting', nodes: '1', madeOn: '2026-01-18' })).toMatch(
      /nodes or more/,
    )
  })
})
