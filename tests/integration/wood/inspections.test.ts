import { randomUUID } from 'node:crypto'
import { beforeAll, beforeEach, describe, expect, test } from 'vitest'
import type { Actor } from '#lib/access/actor.ts'
import { releaseHold } from '#lib/health/release-hold.ts'
import { verifyLedger } from '#lib/ledger/verify-ledger.ts'
import { inspectLot } from '#lib/wood/inspect-lot.ts'
import { InspectLotInput } from '#lib/wood/inspection-input.ts'
import { type InspectionRefusal, inspectionRefusalWords } from '#lib/wood/inspection-refusals.ts'
import { inspectionsOfLot } from '#lib/wood/inspections.ts'
import { getLot } from '#lib/wood/queries.ts'
import { storedWindows } from '#lib/wood/stored-windows.ts'
import { rawSqlAs } from '#tests/integration/ledger/two-roles.ts'
import { makeGroup, makeLot, type TestGroup, type TestLot } from '#tests/support/actors.ts'
import { testDatabase } from '#tests/support/database.ts'

const database = testDatabase({ now: () => new Date('2027-02-04T09:00:00Z') })
const { owner, application } = rawSqlAs(database)

let group: TestGroup
let lot: TestLot

beforeAll(async () => {
  group = await makeGroup(database.db)
})
beforeEach(async () => {
  lot = await makeLot(database.db, group, { sticks: 20, cutOn: '2027-01-11' })
})

/** A look as the form sends it. */
const look = (more: Record<string, string | undefined> = {}) =>
  InspectLotInput.parse({
    key: randomUUID(),
    lotId: lot.lotId,
    onDay: '2027-02-04',
    condition: '4',
    mould: 'none',
    shrivel: 'none',
    budStage: '0',
    nick: 'green',
    decision: 'keep',
    ...more,
  })
const inspect = (actor: Actor, more: Record<string, string | undefined> = {}) =>
  inspectLot(database.db, actor, look(more))
const recorded = async (actor: Actor, more: Record<string, string | undefined> = {}) => {
  const result = await inspect(actor, more)
  if (!result.ok) throw new Error(result.refusal.kind)
  return result.value
}
const looks = () => inspectionsOfLot(database.db.prisma, group.groupId, lot.lotId)
const viewed = async () => {
  const view = await getLot(database.db, group.steward, lot.code)
  if (view?.window.kind !== 'window') throw new Error('No window')
  return { ...view, window: view.window }
}

describe('a look at a lot', () => {
  test('is kept with who looked, when, and all that was seen', async () => {
    await recorded(group.helper, {
      inspectorId: group.member.memberId,
      onDay: '2027-02-01',
      condition: '2',
      mould: 'cut_ends',
      shrivel: 'slight',
      budStage: '1',
      nick: 'brown',
      note: 'Two bags, one worse',
    })
    expect(await looks()).toEqual([
      expect.objectContaining({
        inspectedAt: new Date('2027-02-01T12:00:00Z'),
        inspector: 'Mabel Member',
        recordedBy: 'Hetty Helper',
        condition: 2,
        mould: 'cut_ends',
        shrivel: 'slight',
        budStage: 1,
        nick: 'brown',
        note: 'Two bags, one worse',
        decision: 'keep',
        holdId: null,
        destroyed: null,
        isCorrected: false,
      }),
    ])
    const entry = await database.db.prisma.auditEntry.findFirst({
      where: { groupId: group.groupId, subject: `lot:${lot.code}` },
    })
    expect(entry).toMatchObject({ action: 'inspect-lot', onBehalfOf: group.member.memberId })
  })

  test('counts once when it is sent twice', async () => {
    const input = look({ decision: 'reject', reason: 'Dried out' })
    const first = await inspectLot(database.db, group.helper, input)
    expect(await inspectLot(database.db, group.helper, input)).toEqual(first)
    expect(await looks()).toHaveLength(1)
    expect((await getLot(database.db, group.member, lot.code))?.sums).toMatchObject({
      free: 0,
      destroyed: 20,
    })
  })

  test('asks for what a form left out', () => {
    const bad = InspectLotInput.safeParse({ key: randomUUID(), lotId: lot.lotId, onDay: '2027-02-04' })
    expect(bad.error?.issues.map(({ path }) => path.join('.')).sort()).toEqual([
      'condition',
      'decision',
      'mould',
      'nick',
      'shrivel',
    ])
    expect(bad.error?.issues.every(({ message }) => message.startsWith('Say'))).toBe(true)
    for (const decision of ['hold', 'reject']) {
      expect(InspectLotInput.safeParse({ ...look(), decision }).error?.issues[0]?.path).toEqual(['reason'])
    }
  })
})

describe('what was seen of the buds', () => {
  test('moves the window, on the lot’s page and as it is stored', async () => {
    const before = await viewed()
    await recorded(group.helper, { budStage: '3' })
    const after = await viewed()
    expect(after.window.late < before.window.late).toBe(true)
    expect(after.window.limitedBy).toBe('bud-break')
    const stored = await storedWindows(database.db, group.groupId, 'Europe/London', [lot.lotId])
    const { early, likely, late, limitedBy } = after.window
    expect(stored.get(lot.lotId)).toMatchObject({ early, likely, late, limitedBy })
  })

  test('tight or not looked at moves nothing', async () => {
    const before = await viewed()
    await recorded(group.helper, { budStage: '0' })
    await recorded(group.helper, { budStage: '' })
    expect((await viewed()).window).toEqual(before.window)
    expect((await looks()).map(({ budStage }) => budStage)).toEqual([null, 0])
  })

  test('no longer counts once it is corrected', async () => {
    const before = await viewed()
    const { inspectionId } = await recorded(group.helper, { budStage: '7' })
    expect((await viewed()).window.state).toBe('past')
    await recorded(group.helper, { budStage: '0', supersedesId: inspectionId })
    expect((await viewed()).window).toEqual(before.window)
    expect((await looks()).map(({ isCorrected, isCorrection }) => [isCorrected, isCorrection])).toEqual([
      [false, true],
      [true, false],
    ])
  })
})

describe('a look that decides', () => {
  test('puts the lot on hold with its reason, in one go', async () => {
    await recorded(group.steward, { decision: 'hold', reason: 'Ooze at the cut ends', note: 'Looked twice' })
    const view = await getLot(database.db, group.steward, lot.code)
    expect(view?.holds).toMatchObject([
      { reason: 'Ooze at the cut ends', placedBy: 'Stan Steward', releasedAt: null },
    ])
    expect((await looks())[0]?.holdId).toBe(view?.holds[0]?.holdId)
  })

  test('cannot hold what is held, nor hold without the right; then nothing is kept of it', async () => {
    expect(await inspect(group.helper, { decision: 'hold', reason: 'Ooze' })).toMatchObject({
      refusal: { kind: 'not-allowed', right: 'place-holds' },
    })
    expect(await looks()).toEqual([])
    await recorded(group.steward, { decision: 'hold', reason: 'Ooze' })
    expect(await inspect(group.steward, { decision: 'hold', reason: 'Ooze again' })).toMatchObject({
      refusal: { kind: 'held-already', reason: 'Ooze' },
    })
    expect(await looks()).toHaveLength(1)
  })

  test('can hold again after the release, and each look names its own hold', async () => {
    await recorded(group.steward, { decision: 'hold', reason: 'Ooze' })
    const holdId = (await looks())[0]?.holdId ?? ''
    expect((await releaseHold(database.db, group.steward, { holdId, reason: 'It was sap' })).ok).toBe(true)
    await recorded(group.steward, { decision: 'hold', reason: 'Ooze after all' })
    expect(new Set((await looks()).map((one) => one.holdId)).size).toBe(2)
  })

  test('destroys the free sticks with its reason, all or some', async () => {
    expect(
      await recorded(group.member, { decision: 'reject', reason: 'Mould on the buds', sticks: '5' }),
    ).toMatchObject({
      destroyed: 5,
    })
    expect(await recorded(group.member, { decision: 'reject', reason: 'The rest too' })).toMatchObject({
      destroyed: 15,
    })
    expect((await looks()).map(({ destroyed }) => destroyed)).toEqual([
      { sticks: 15, reason: 'The rest too' },
      { sticks: 5, reason: 'Mould on the buds' },
    ])
    expect(await verifyLedger(database.db)).toEqual([])
  })

  test('refuses to destroy more than is free, and what is not there; then nothing is kept of it', async () => {
    expect(await inspect(group.helper, { decision: 'reject', reason: 'x', sticks: '21' })).toMatchObject({
      refusal: { kind: 'not-enough-sticks', left: 20 },
    })
    expect(await looks()).toEqual([])
    await recorded(group.helper, { decision: 'reject', reason: 'Dried out' })
    expect(await inspect(group.helper, { decision: 'reject', reason: 'x' })).toMatchObject({
      refusal: { kind: 'nothing-to-destroy', promised: 0 },
    })
  })

  test('held wood can still be destroyed', async () => {
    await recorded(group.steward, { decision: 'hold', reason: 'Canker' })
    expect(await recorded(group.steward, { decision: 'reject', reason: 'Canker, confirmed' })).toMatchObject({
      destroyed: 20,
    })
  })
})

describe('a look is refused', () => {
  const refusalOf = async (
    actor: Actor,
    more: Record<string, string | undefined>,
  ): Promise<InspectionRefusal> => {
    const result = await inspect(actor, more)
    if (result.ok) throw new Error('It was recorded')
    expect(inspectionRefusalWords(result.refusal).next.length).toBeGreaterThan(0)
    return result.refusal
  }

  test('on a day to come, or before the cut', async () => {
    expect(await refusalOf(group.helper, { onDay: '2027-02-05' })).toEqual({
      kind: 'day-to-come',
      today: '2027-02-04',
    })
    expect(await refusalOf(group.helper, { onDay: '2027-01-10' })).toEqual({
      kind: 'before-the-cut',
      cutOn: '2027-01-11',
    })
    await recorded(group.helper, { onDay: '2027-01-11' })
  })

  test('by people whose wood it is not', async () => {
    expect(await refusalOf(group.otherMember, {})).toEqual({ kind: 'not-your-wood' })
    for (const actor of [group.member, group.helper, group.steward, group.organiser]) await recorded(actor)
  })

  test('in the name of others by a member, and of nobody’s member', async () => {
    expect(await refusalOf(group.member, { inspectorId: group.otherMember.memberId })).toEqual({
      kind: 'not-yourself',
    })
    expect(await refusalOf(group.helper, { inspectorId: randomUUID() })).toEqual({ kind: 'no-such-member' })
    await recorded(group.member, { inspectorId: group.member.memberId })
  })

  test('as a correction of what is not there, of another lot, or corrected before', async () => {
    const { inspectionId } = await recorded(group.helper)
    expect(await refusalOf(group.helper, { supersedesId: randomUUID() })).toMatchObject({ kind: 'not-found' })
    const other = await makeLot(database.db, group, { cutOn: '2027-01-11' })
    expect(await refusalOf(group.helper, { supersedesId: inspectionId, lotId: other.lotId })).toMatchObject({
      kind: 'not-found',
    })
    await recorded(group.helper, { supersedesId: inspectionId })
    expect(await refusalOf(group.helper, { supersedesId: inspectionId })).toEqual({
      kind: 'already-corrected',
    })
  })

  test('of a lot of another group', async () => {
    const others = await makeGroup(database.db)
    expect(await refusalOf(others.organiser, {})).toMatchObject({ kind: 'not-found' })
    await recorded(group.helper)
    expect(await inspectionsOfLot(database.db.prisma, others.groupId, lot.lotId)).toEqual([])
  })
})

describe('the table refuses, whoever writes', () => {
  let ids: Record<string, string>
  beforeEach(async () => {
    const other = await makeGroup(database.db)
    const theirs = await makeLot(database.db, other)
    const second = await makeLot(database.db, group, { cutOn: '2027-01-11' })
    const { inspectionId } = await recorded(group.steward, { decision: 'hold', reason: 'Ooze' })
    await recorded(group.steward, { decision: 'reject', reason: 'Ooze', sticks: '1' })
    const rows = await database.db.prisma.inspection.findMany({
      where: { groupId: group.groupId, lotId: lot.lotId },
    })
    ids = {
      group: group.groupId,
      lot: lot.lotId,
      second: second.lotId,
      theirLot: theirs.lotId,
      member: group.member.memberId,
      theirMember: other.member.memberId,
      look: inspectionId,
      hold: rows.find((row) => row.holdId)?.holdId ?? '',
      move: rows.find((row) => row.moveId)?.moveId ?? '',
      fresh: database.db.newId(),
    }
  })
  const filled = (sql: string) => sql.replace(/\{(\w+)\}/g, (_, name: string) => `'${ids[name]}'`)
  const insert = (more: Record<string, string> = {}) => {
    const row = {
      group_id: '{group}',
      id: '{fresh}',
      lot_id: '{lot}',
      inspected_at: 'now()',
      inspector_id: '{member}',
      recorded_by_id: '{member}',
      condition: '4',
      mould: `'none'`,
      shrivel: `'none'`,
      nick: `'green'`,
      decision: `'keep'`,
      ...more,
    }
    return `insert into inspection (${Object.keys(row).join(', ')}) values (${Object.values(row).join(', ')})`
  }

  test.each([
    ['a condition of none', { condition: '0' }, 'inspection_condition_is_one_to_five'],
    ['a condition of six', { condition: '6' }, 'inspection_condition_is_one_to_five'],
    ['a bud stage of a hundred', { bud_stage: '100' }, 'inspection_bud_stage_is_bbch'],
    ['a hold without a hold', { decision: `'hold'` }, 'inspection_that_holds_names_the_hold'],
    ['a hold that was not decided', { hold_id: '{hold}' }, 'inspection_that_holds_names_the_hold'],
    ['a rejection without a move', { decision: `'reject'` }, 'inspection_that_rejects_names_the_move'],
    ['a move that was not decided', { move_id: '{move}' }, 'inspection_that_rejects_names_the_move'],
    ['a look that corrects itself', { supersedes_id: '{fresh}' }, 'inspection_does_not_stand_in_for_itself'],
    ['a look at their lot', { lot_id: '{theirLot}' }, 'inspection_group_id_lot_id_fkey'],
    ['a look by one of them', { inspector_id: '{theirMember}' }, 'inspection_group_id_inspector_id_fkey'],
    [
      'a look recorded by one of them',
      { recorded_by_id: '{theirMember}' },
      'inspection_group_id_recorded_by_id_fkey',
    ],
    [
      'a hold of another lot',
      { lot_id: '{second}', decision: `'hold'`, hold_id: '{hold}' },
      'inspection_group_id_hold_id_lot_id_fkey',
    ],
    [
      'a move of another lot',
      { lot_id: '{second}', decision: `'reject'`, move_id: '{move}' },
      'inspection_group_id_move_id_lot_id_fkey',
    ],
    [
      'a correction of another lot’s look',
      { lot_id: '{second}', supersedes_id: '{look}' },
      'inspection_group_id_supersedes_id_lot_id_fkey',
    ],
    [
      'a hold that another look placed',
      { decision: `'hold'`, hold_id: '{hold}' },
      'inspection_group_id_hold_id_lot_id_key',
    ],
    [
      'a move that another look made',
      { decision: `'reject'`, move_id: '{move}' },
      'inspection_group_id_move_id_lot_id_key',
    ],
  ])('%s', async (_what, more, constraint) => {
    expect(await owner.attack([filled(insert(more))])).toMatchObject({ constraint })
    expect(await application.attack([filled(insert(more))])).toMatchObject({ constraint })
  })

  test('a look without a fault is taken, one that corrects it too, but only once', async () => {
    const again = insert({ id: `'${randomUUID()}'`, supersedes_id: '{fresh}' })
    expect(await application.attack([filled(insert())], [filled(again)])).toMatchObject({ state: 'accepted' })
    const third = insert({ id: `'${randomUUID()}'`, supersedes_id: '{fresh}' })
    expect(await application.attack([filled(insert())], [filled(again)], [filled(third)])).toMatchObject({
      constraint: 'inspection_group_id_supersedes_id_lot_id_key',
    })
  })

  test.each([
    'update inspection set condition = 5',
    'update inspection set note = null',
    'delete from inspection',
    'truncate inspection',
  ])('a look stays as it was: %s', async (sql) => {
    expect(await owner.attack([sql])).toMatchObject({ state: 'TW001' })
    expect(await application.attack([sql])).toMatchObject({ state: '42501' })
  })
})
