import { randomUUID } from 'node:crypto'
import { beforeAll, describe, expect, test } from 'vitest'
import { parseCode } from '#lib/grafting/codes.ts'
import { civilDate } from '#lib/kernel/civil-date.ts'
import { verifyLedger } from '#lib/ledger/verify-ledger.ts'
import type { LogCuttingSessionInput, LotToCut } from '#lib/wood/input.ts'
import { logCuttingSession } from '#lib/wood/log-cutting-session.ts'
import { getLot, getSession, listWood } from '#lib/wood/queries.ts'
import { makeGroup, makeLot, type TestGroup, type TestLot } from '#tests/support/actors.ts'
import { testDatabase } from '#tests/support/database.ts'

const database = testDatabase({ now: () => new Date('2027-02-04T09:00:00Z') })

let group: TestGroup
let wood: TestLot

beforeAll(async () => {
  group = await makeGroup(database.db)
  wood = await makeLot(database.db, group, { cutOn: '2027-01-11' })
})

const lotToCut = (more: Partial<LotToCut> = {}): LotToCut => ({
  limbId: wood.limbId,
  sticks: 18,
  kind: 'scion_wood',
  diameter: 'pencil',
  budStage: 0,
  packaging: 'sealed_damp',
  storeId: wood.storeId,
  ...more,
})

const session = (more: Partial<LogCuttingSessionInput> = {}): LogCuttingSessionInput => ({
  key: randomUUID(),
  cutterId: group.member.memberId,
  cutOn: civilDate('2027-02-03'),
  tool: 'the red secateurs',
  toolCare: 'wiped_between_trees',
  weather: 'dry',
  lots: [lotToCut()],
  ...more,
})

const logged = async (input: LogCuttingSessionInput, actor = group.member) => {
  const result = await logCuttingSession(database.db, actor, input)
  if (!result.ok) throw new Error(result.refusal.kind)
  return result.value
}

const refusalOf = async (input: LogCuttingSessionInput, actor = group.member) => {
  const result = await logCuttingSession(database.db, actor, input)
  return result.ok ? null : result.refusal
}

describe('logging a cutting session', () => {
  test('gives every lot a code with a true check character, in the order of cutting', async () => {
    const { sessionId, lots } = await logged(
      session({ lots: [lotToCut({ sticks: 3 }), lotToCut({ sticks: 5 }), lotToCut({ sticks: 7 })] }),
    )
    expect(lots.map((lot) => parseCode(lot.code).ok)).toEqual([true, true, true])
    const view = await getSession(database.db, group.member, sessionId)
    expect(view?.lots.map(({ lot, sums }) => [lot.code, sums.cut])).toEqual([
      [lots[0]?.code, 3],
      [lots[1]?.code, 5],
      [lots[2]?.code, 7],
    ])
    expect(view).toMatchObject({
      cutterName: 'Mabel Member',
      tool: 'the red secateurs',
      toolCare: 'wiped_between_trees',
    })
  })

  test('puts the sticks into the ledger and the lot into its store from the noon of the cut', async () => {
    const { lots } = await logged(session())
    const view = await getLot(database.db, group.member, lots[0]?.code ?? '')
    expect(view?.sums).toMatchObject({ cut: 18, free: 18, promised: 0 })
    expect(view?.moves.map((move) => [move.kind, move.sticks, move.freeAfter])).toEqual([['cut', 18, 18]])
    expect(view?.moves[0]?.happenedAt.toISOString()).toBe('2027-02-03T12:00:00.000Z')
    expect(view?.stays.map((stay) => [stay.from, stay.to, stay.basis])).toEqual([
      ['2027-02-03', null, 'typed'],
    ])
    expect(await verifyLedger(database.db, group.groupId)).toEqual([])
  })

  test('records wood whose buds move already', async () => {
    const { lots } = await logged(session({ lots: [lotToCut({ budStage: 7 })] }))
    const view = await getLot(database.db, group.member, lots[0]?.code ?? '')
    expect(view?.lot.budStage).toBe(7)
  })

  test('changes nothing at a second click', async () => {
    const input = session()
    const first = await logged(input)
    const before = await database.db.prisma.lot.count({ where: { groupId: group.groupId } })
    expect(await logged(input)).toEqual(first)
    expect(await database.db.prisma.lot.count({ where: { groupId: group.groupId } })).toBe(before)
  })

  test('refuses a key that comes back with other entries', async () => {
    const input = session()
    await logged(input)
    expect(await refusalOf({ ...input, weather: 'wet' })).toEqual({ kind: 'key-reused' })
  })

  test('lets a helper write down what somebody else cut, and says so in the ledger', async () => {
    const { lots } = await logged(session(), group.helper)
    const view = await getLot(database.db, group.otherMember, lots[0]?.code ?? '')
    expect(view?.lot.cutterName).toBe('Mabel Member')
    expect(view?.moves[0]).toMatchObject({ recordedBy: 'Hetty Helper', onBehalfOf: 'Mabel Member' })
  })

  test('refuses a member who writes in somebody else’s name', async () => {
    expect(await refusalOf(session(), group.otherMember)).toMatchObject({
      kind: 'not-allowed',
      right: 'act-for-others',
    })
  })

  test('refuses a day to come', async () => {
    expect(await refusalOf(session({ cutOn: civilDate('2027-02-05') }))).toEqual({
      kind: 'day-to-come',
      today: '2027-02-04',
    })
  })

  test('refuses a cutter, a limb and a store of another group', async () => {
    const other = await makeGroup(database.db)
    const theirs = await makeLot(database.db, other)
    expect(await refusalOf(session({ cutterId: other.member.memberId }), group.helper)).toEqual({
      kind: 'no-such-member',
    })
    expect(await refusalOf(session({ lots: [lotToCut(), lotToCut({ limbId: theirs.limbId })] }))).toEqual({
      kind: 'no-such-limb',
      lot: 2,
    })
    expect(await refusalOf(session({ lots: [lotToCut({ storeId: theirs.storeId })] }))).toEqual({
      kind: 'no-such-store',
      lot: 1,
    })
  })

  test('counts the blocks of the form when it names a lot', async () => {
    expect(await refusalOf(session({ lots: [lotToCut({ at: 3, storeId: randomUUID() })] }))).toEqual({
      kind: 'no-such-store',
      lot: 4,
    })
  })

  test('refuses a limb that is gone', async () => {
    const gone = await makeLot(database.db, group)
    await database.db.prisma.limb.update({
      where: { groupId_id: { groupId: group.groupId, id: gone.limbId } },
      data: { goneOn: new Date('2027-01-01T00:00:00Z') },
    })
    expect(await refusalOf(session({ lots: [lotToCut({ limbId: gone.limbId })] }))).toMatchObject({
      kind: 'limb-gone',
      lot: 1,
    })
  })

  test('refuses a limb on hold with the reason, and writes nothing of the other lots', async () => {
    const sick = await makeLot(database.db, group)
    await database.db.prisma.healthHold.create({
      data: {
        groupId: group.groupId,
        id: randomUUID(),
        limbId: sick.limbId,
        reason: 'black tips',
        placedById: group.steward.memberId,
        placedAt: new Date('2027-01-20T10:00:00Z'),
      },
    })
    const before = await database.db.prisma.lot.count({ where: { groupId: group.groupId } })
    expect(await refusalOf(session({ lots: [lotToCut(), lotToCut({ limbId: sick.limbId })] }))).toMatchObject(
      {
        kind: 'limb-held',
        lot: 2,
        reason: 'black tips',
      },
    )
    expect(await database.db.prisma.lot.count({ where: { groupId: group.groupId } })).toBe(before)
  })

  test('is noted in the audit with the codes it gave', async () => {
    const { sessionId, lots } = await logged(session())
    const entry = await database.db.prisma.auditEntry.findFirst({
      where: { subject: `session:${sessionId}` },
    })
    expect(entry).toMatchObject({ action: 'log-cutting-session', actorId: group.member.memberId })
    expect(entry?.detail).toEqual({ lots: lots.map((lot) => lot.code) })
  })
})

describe('wood of another group', () => {
  test('is on nobody else’s list and behind nobody else’s code', async () => {
    const other = await makeGroup(database.db)
    expect(await getLot(database.db, other.organiser, wood.code)).toBeNull()
    expect(await getSession(database.db, other.organiser, wood.sessionId)).toBeNull()
    expect((await listWood(database.db, other.organiser)).lots).toEqual([])
  })
})
