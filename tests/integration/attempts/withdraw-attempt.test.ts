import { randomUUID } from 'node:crypto'
import { beforeAll, describe, expect, test } from 'vitest'
import type { Actor } from '#lib/access/actor.ts'
import { RecordAttemptInput, RecordCheckInput, WithdrawAttemptInput } from '#lib/attempts/input.ts'
import { getAttempt } from '#lib/attempts/queries.ts'
import { recordAttempt } from '#lib/attempts/record-attempt.ts'
import { recordCheck } from '#lib/attempts/record-check.ts'
import { withdrawAttempt } from '#lib/attempts/withdraw-attempt.ts'
import { required } from '#lib/kernel/assert.ts'
import { verifyLedger } from '#lib/ledger/verify-ledger.ts'
import { giveSticks, holdings } from '#tests/integration/attempts/given.ts'
import { anyCode, makeGroup, makeLot, type TestGroup, type TestLot } from '#tests/support/actors.ts'
import { testDatabase } from '#tests/support/database.ts'

const database = testDatabase({ now: () => new Date('2026-06-01T10:00:00Z') })
let group: TestGroup

beforeAll(async () => {
  group = await makeGroup(database.db)
})

async function anAttempt(lot: TestLot): Promise<string> {
  await giveSticks(database.db, group, lot, group.member.memberId, 4)
  const input = RecordAttemptInput.parse({
    key: randomUUID(),
    source: 'lot',
    lotId: lot.lotId,
    method: 'cleft',
    madeOn: '2026-03-20',
    pieces: 4,
  })
  const result = await recordAttempt(database.db, group.member, input)
  return required(result.ok ? result.value.attemptId : null, 'an attempt')
}

const withdraw = (actor: Actor, attemptId: string, key: string = randomUUID()) =>
  withdrawAttempt(database.db, actor, WithdrawAttemptInput.parse({ key, attemptId, reason: 'entered twice' }))

describe('withdrawing an attempt', () => {
  test('gives its sticks back by reversal and keeps the entry with its reason', async () => {
    const { db } = database
    const lot = await makeLot(db, group)
    const attemptId = await anAttempt(lot)
    expect(await holdings(db, lot)).toMatchObject({ used: 4, [`member:${group.member.memberId}`]: 0 })

    const result = await withdraw(group.member, attemptId)

    expect(result).toEqual({ ok: true, value: { attemptId, sticksBack: 4 } })
    expect(await holdings(db, lot)).toMatchObject({ used: 0, [`member:${group.member.memberId}`]: 4 })
    const view = required(await getAttempt(db, group.member, attemptId), 'the entry')
    expect(view.withdrawn).toEqual({ reason: 'entered twice' })
    expect(view.looks).toEqual([])
    expect(await verifyLedger(db, group.groupId)).toEqual([])
  })

  test('does nothing the second time', async () => {
    const lot = await makeLot(database.db, group)
    const attemptId = await anAttempt(lot)
    const key = randomUUID()
    const first = await withdraw(group.member, attemptId, key)
    expect(await withdraw(group.member, attemptId, key)).toEqual(first)
    expect(await withdraw(group.member, attemptId)).toEqual({
      ok: false,
      refusal: { kind: 'withdrawn', reason: 'entered twice' },
    })
    expect(await holdings(database.db, lot)).toMatchObject({ used: 0 })
  })

  test('happens once when two people do it at the same moment', async () => {
    const lot = await makeLot(database.db, group)
    const attemptId = await anAttempt(lot)
    const results = await Promise.all([withdraw(group.member, attemptId), withdraw(group.helper, attemptId)])
    expect(results.filter((result) => result.ok)).toHaveLength(1)
    expect(await holdings(database.db, lot)).toMatchObject({
      used: 0,
      [`member:${group.member.memberId}`]: 4,
    })
  })

  test('is refused to other members, and in another group it is not there', async () => {
    const lot = await makeLot(database.db, group)
    const attemptId = await anAttempt(lot)
    expect(await withdraw(group.otherMember, attemptId)).toMatchObject({
      ok: false,
      refusal: { kind: 'not-allowed' },
    })
    const elsewhere = await makeGroup(database.db, 'Elsewhere')
    expect(await withdraw(elsewhere.organiser, attemptId)).toEqual({
      ok: false,
      refusal: { kind: 'not-found' },
    })
  })

  test('is refused once a limb is recorded as grown from it', async () => {
    const { db } = database
    const lot = await makeLot(db, group)
    const attemptId = await anAttempt(lot)
    const { groupId } = group
    const [treeId, code] = [db.newId(), anyCode()]
    await db.prisma.issuedCode.create({ data: { groupId, code, kind: 'tree' } })
    await db.prisma.tree.create({ data: { groupId, id: treeId, code, keeperId: group.member.memberId } })
    await db.prisma.limb.create({
      data: {
        groupId,
        id: db.newId(),
        treeId,
        mark: 'A',
        varietyId: lot.varietyId,
        origin: 'grafted',
        fromAttemptId: attemptId,
      },
    })
    expect(await withdraw(group.member, attemptId)).toEqual({
      ok: false,
      refusal: { kind: 'became-limb', treeCode: code },
    })
  })

  test('takes no more looks afterwards', async () => {
    const lot = await makeLot(database.db, group)
    const attemptId = await anAttempt(lot)
    await withdraw(group.member, attemptId)
    const input = RecordCheckInput.parse({
      key: randomUUID(),
      attemptId,
      checkedOn: '2026-05-01',
      alive: 4,
      dead: 0,
      unknown: 0,
    })
    expect(await recordCheck(database.db, group.member, input)).toMatchObject({
      ok: false,
      refusal: { kind: 'withdrawn' },
    })
  })
})
