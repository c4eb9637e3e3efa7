import { beforeAll, describe, expect, test } from 'vitest'
import { verifyLedger } from '#lib/ledger/verify-ledger.ts'
import { SplitLotInput } from '#lib/wood/input.ts'
import { getLot } from '#lib/wood/queries.ts'
import { splitLot } from '#lib/wood/split-lot.ts'
import { makeGroup, makeLot, type TestGroup } from '#tests/support/actors.ts'
import { testDatabase } from '#tests/support/database.ts'
import { holdingsOf, kindOf, placeTestHold, valueIn } from '../swaps/swap-world.ts'

const database = testDatabase()
let group: TestGroup
let cellarId: string

beforeAll(async () => {
  const { db } = database
  group = await makeGroup(db)
  cellarId = db.newId()
  await db.prisma.store.create({
    data: { groupId: group.groupId, id: cellarId, name: 'Cellar', kind: 'cellar' },
  })
})

const splitting = (lotId: string, sticks: number, storeId = cellarId) =>
  SplitLotInput.parse({ key: database.db.newId(), lotId, storeId, sticks: String(sticks), reason: '' })

describe('a part of a lot that goes into another store', () => {
  test('is a lot of its own: same limb, session and day, its stays until now, and no stick more or less', async () => {
    const { db } = database
    const lot = await makeLot(db, group, { sticks: 20 })
    const part = valueIn(await splitLot(db, group.helper, splitting(lot.lotId, 8)))
    expect(part).toMatchObject({ fromCode: lot.code, left: 12 })
    expect(await holdingsOf(db, lot.lotId)).toEqual({ cut: -12, store: 12 })
    expect(await holdingsOf(db, part.lotId)).toEqual({ cut: -8, store: 8 })
    const row = await db.prisma.lot.findFirstOrThrow({ where: { id: part.lotId }, include: { stints: true } })
    expect(row).toMatchObject({ limbId: lot.limbId, sessionId: lot.sessionId, splitFromId: lot.lotId })
    const stays = row.stints.sort((a, b) => a.beganAt.getTime() - b.beganAt.getTime())
    expect(stays.map(({ storeId }) => storeId)).toEqual([lot.storeId, cellarId])
    expect(stays[0]?.endedAt).toEqual(stays[1]?.beganAt)
    expect(await verifyLedger(db)).toEqual([])
    for (const [code, moves] of [
      [lot.code, ['cut', 'split']],
      [part.code, ['split']],
    ] as const) {
      const found = await db.prisma.move.findMany({ where: { lot: { code } }, orderBy: { seq: 'asc' } })
      expect(found.map(({ kind }) => kind)).toEqual(moves)
    }
    expect(
      await db.prisma.auditEntry.count({ where: { action: 'split-lot', subject: `lot:${lot.code}` } }),
    ).toBe(1)
    expect((await getLot(db, group.member, part.code))?.sums).toMatchObject({ cut: 8, free: 8 })
  })

  test('a second click splits no more', async () => {
    const { db } = database
    const lot = await makeLot(db, group, { sticks: 20 })
    const input = splitting(lot.lotId, 8)
    const answers = await Promise.all([1, 2, 3].map(() => splitLot(db, group.helper, input)))
    expect(new Set(answers.map((answer) => valueIn(answer).code)).size).toBe(1)
    expect(await holdingsOf(db, lot.lotId)).toEqual({ cut: -12, store: 12 })
  })

  test('two at once never split more than there is', async () => {
    const { db } = database
    const lot = await makeLot(db, group, { sticks: 10 })
    const answers = await Promise.all([1, 2].map(() => splitLot(db, group.helper, splitting(lot.lotId, 6))))
    expect(answers.map(kindOf).sort()).toEqual(['accepted', 'not-enough-sticks'])
    expect(await verifyLedger(db)).toEqual([])
  })

  test('is refused beyond what is free, into its own or a closed store, on hold, and to strangers', async () => {
    const { db } = database
    const lot = await makeLot(db, group, { sticks: 10 })
    expect(await splitLot(db, group.helper, splitting(lot.lotId, 11))).toEqual({
      ok: false,
      refusal: { kind: 'not-enough-sticks', left: 10, account: 'store' },
    })
    expect(kindOf(await splitLot(db, group.helper, splitting(lot.lotId, 1, lot.storeId)))).toBe(
      'already-there',
    )
    expect(kindOf(await splitLot(db, group.otherMember, splitting(lot.lotId, 1)))).toBe('not-your-wood')
    const others = await makeGroup(db)
    expect(kindOf(await splitLot(db, others.organiser, splitting(lot.lotId, 1)))).toBe('not-found')
    await placeTestHold(db, group, { lotId: lot.lotId })
    expect(kindOf(await splitLot(db, group.helper, splitting(lot.lotId, 1)))).toBe('held')
    const fresh = await makeLot(db, group)
    const closed = await makeLot(db, group)
    await db.prisma.store.updateMany({ where: { id: closed.storeId }, data: { closedOn: db.now() } })
    expect(kindOf(await splitLot(db, group.helper, splitting(fresh.lotId, 1, closed.storeId)))).toBe(
      'store-closed',
    )
  })
})
