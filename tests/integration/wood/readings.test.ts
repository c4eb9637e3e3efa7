import { createHash, randomUUID } from 'node:crypto'
import { beforeAll, describe, expect, test } from 'vitest'
import type { Actor } from '#lib/access/actor.ts'
import { civilDate } from '#lib/kernel/civil-date.ts'
import { draftReadings } from '#lib/wood/draft-readings.ts'
import { type ImportAnswers, ImportReadingsInput } from '#lib/wood/import-input.ts'
import { importReadings } from '#lib/wood/import-readings.ts'
import { importRefusalWords } from '#lib/wood/import-refusal-words.ts'
import { previewReadings } from '#lib/wood/preview-readings.ts'
import { getLot } from '#lib/wood/queries.ts'
import { reportReading } from '#lib/wood/report-reading.ts'
import { findImport, readingsCsv, storeReadings } from '#lib/wood/store-readings.ts'
import { storedWindows } from '#lib/wood/stored-windows.ts'
import { takeBackImport } from '#lib/wood/take-back-import.ts'
import { rawSqlAs } from '#tests/integration/ledger/two-roles.ts'
import { makeGroup, makeLot, type TestGroup, type TestLot } from '#tests/support/actors.ts'
import { testDatabase } from '#tests/support/database.ts'

let now = new Date('2027-02-04T09:00:00Z')
const database = testDatabase({ now: () => now })
const { owner, application } = rawSqlAs(database)

let group: TestGroup
let wood: TestLot

beforeAll(async () => {
  group = await makeGroup(database.db)
  wood = await makeLot(database.db, group, { cutOn: '2027-01-11' })
})

const unanswered: ImportAnswers = {
  days: null,
  unit: null,
  clock: 'wall',
  timeColumn: null,
  temperatureColumn: null,
}
const hour = (i: number) => new Date(Date.parse('2027-01-12T00:00:00Z') + i * 3_600_000).toISOString()
/** A file of so many hours from the twelfth of January on. */
const hourly = (hours: number, celsius: (i: number) => number = () => 3) =>
  `Time,Temp °C\n${Array.from({ length: hours }, (_, i) => `${hour(i)},${celsius(i)}`).join('\n')}\n`

const bring = async (actor: Actor, storeId: string, text: string, fileName = 'logger.csv') => {
  const drafted = await draftReadings(database.db, actor, {
    key: randomUUID(),
    storeId,
    fileName,
    bytes: new TextEncoder().encode(text),
  })
  if (!drafted.ok) throw new Error(drafted.refusal.kind)
  return drafted.value
}
const preview = async (
  actor: Actor,
  draft: { storeId: string; draftId: string },
  more: Partial<ImportAnswers> = {},
) => {
  const shown = await previewReadings(database.db, actor, draft, { ...unanswered, ...more })
  if (!shown.ok) throw new Error(JSON.stringify(shown.refusal))
  return shown.value
}
const write = (
  actor: Actor,
  draft: { storeId: string; draftId: string },
  shown: string,
  key = randomUUID(),
) => importReadings(database.db, actor, ImportReadingsInput.parse({ ...draft, key, shown }))
const importWhole = async (actor: Actor, storeId: string, text: string) => {
  const draft = await bring(actor, storeId, text)
  const result = await write(actor, draft, (await preview(actor, draft)).mark)
  if (!result.ok) throw new Error(result.refusal.kind)
  return result.value
}
const readingsIn = (storeId: string) =>
  database.db.prisma.reading.count({ where: { groupId: group.groupId, storeId } })
const freshStore = async () => (await makeLot(database.db, group, { cutOn: '2027-01-11' })).storeId

describe('a logger’s file', () => {
  test('is shown first and changes nothing', async () => {
    const storeId = await freshStore()
    const text = `${hourly(30)}${hour(40)},5\n${hour(0)},3\n${hour(1)},8\nnever,3\n`
    const draft = await bring(group.helper, storeId, text)
    const shown = await preview(group.helper, draft)
    expect(shown).toMatchObject({
      fileName: 'logger.csv',
      rows: 34,
      fresh: 31,
      already: 0,
      repeated: 1,
      span: { lowest: 3, median: 3, highest: 5 },
      gaps: [{ from: new Date(hour(29)), to: new Date(hour(40)) }],
      readAs: { timeHeading: 'Time', temperatureHeading: 'Temp °C', unit: 'C' },
    })
    expect(shown.span?.from.toISOString()).toBe(hour(0))
    expect(shown.faults.map(({ line, column }) => [line, column])).toEqual([
      [34, 'Time'],
      [35, 'Time'],
    ])
    expect(shown.hours).toHaveLength(31)
    expect(await readingsIn(storeId)).toBe(0)
  })

  test('is written as it was shown, once, and the same again changes nothing', async () => {
    const storeId = await freshStore()
    const draft = await bring(group.helper, storeId, hourly(48))
    const { mark } = await preview(group.helper, draft)
    const key = randomUUID()
    const first = await write(group.helper, draft, mark, key)
    expect(first).toMatchObject({ ok: true, value: { storeId, written: 48 } })
    expect(await write(group.helper, draft, mark, key)).toEqual(first)
    expect(await write(group.helper, draft, mark)).toMatchObject({ refusal: { kind: 'draft-gone' } })
    const again = await bring(group.helper, storeId, hourly(48))
    const shown = await preview(group.helper, again)
    expect(shown).toMatchObject({ fresh: 0, already: 48, faults: [] })
    expect(await write(group.helper, again, shown.mark)).toMatchObject({
      refusal: { kind: 'nothing-new', already: 48 },
    })
    expect(await readingsIn(storeId)).toBe(48)
  })

  test('that goes on where the last one ended adds what is new, and names what contradicts the store', async () => {
    const storeId = await freshStore()
    await importWhole(group.helper, storeId, hourly(24))
    const draft = await bring(
      group.helper,
      storeId,
      hourly(48, (i) => (i === 3 ? 9 : 3)),
    )
    const shown = await preview(group.helper, draft)
    expect(shown).toMatchObject({ fresh: 24, already: 23 })
    expect(shown.faults).toEqual([
      { line: 5, column: 'Time', why: 'says 9 °C for a moment at which the store has 3 °C' },
    ])
    expect(await write(group.helper, draft, shown.mark)).toMatchObject({ ok: true, value: { written: 24 } })
    expect(await readingsIn(storeId)).toBe(48)
  })

  test('is not written when the store has changed since it was shown', async () => {
    const storeId = await freshStore()
    const draft = await bring(group.helper, storeId, hourly(24))
    const { mark } = await preview(group.helper, draft)
    await importWhole(group.organiser, storeId, hourly(2))
    expect(await write(group.helper, draft, mark)).toMatchObject({ refusal: { kind: 'changed-since' } })
    expect(await write(group.helper, draft, (await preview(group.helper, draft)).mark)).toMatchObject({
      value: { written: 22 },
    })
  })

  test('with a question is kept until it is answered', async () => {
    const storeId = await freshStore()
    const draft = await bring(group.helper, storeId, 'Time,Temperature\n03/02/2027 10:00,38.3\n')
    const ask = () => previewReadings(database.db, group.helper, draft, unanswered)
    expect(await ask()).toMatchObject({
      refusal: {
        kind: 'not-readable',
        why: { kind: 'questions', questions: { asksForUnit: true, days: { text: '03/02/2027 10:00' } } },
      },
    })
    const shown = await preview(group.helper, draft, { days: 'dmy', unit: 'F' })
    expect(shown.span).toMatchObject({ from: new Date('2027-02-03T10:00:00Z'), lowest: 3.5 })
    const input = ImportReadingsInput.parse({
      ...draft,
      key: randomUUID(),
      shown: shown.mark,
      days: 'dmy',
      unit: 'F',
    })
    expect((await importReadings(database.db, group.helper, input)).ok).toBe(true)
  })

  test('that cannot be read is refused in words and still waits', async () => {
    const draft = await bring(group.helper, await freshStore(), 'Time,Temp °C\n')
    const shown = await previewReadings(database.db, group.helper, draft, unanswered)
    expect(shown).toMatchObject({ refusal: { kind: 'not-readable', why: { kind: 'no-rows' } } })
    if (!shown.ok) expect(importRefusalWords(shown.refusal).next.length).toBeGreaterThan(0)
  })

  test('waits a day, then is thrown away', async () => {
    const storeId = await freshStore()
    const draft = await bring(group.helper, storeId, hourly(3))
    now = new Date('2027-02-05T10:00:00Z')
    try {
      expect(await previewReadings(database.db, group.helper, draft, unanswered)).toMatchObject({
        refusal: { kind: 'draft-gone' },
      })
      await bring(group.helper, storeId, hourly(2))
      const left = await database.db.prisma.readingDraft.count({
        where: { groupId: group.groupId, id: draft.draftId },
      })
      expect(left).toBe(0)
    } finally {
      now = new Date('2027-02-04T09:00:00Z')
    }
  })

  test('of 20,000 rows is written whole', async () => {
    const storeId = await freshStore()
    const start = Date.parse('2026-06-01T00:00:00Z')
    const rows = Array.from(
      { length: 20_000 },
      (_, i) =>
        `${new Date(start + i * 900_000).toISOString()};${String(3 + (i % 7) / 10).replace('.', ',')}`,
    )
    const began = performance.now()
    const written = await importWhole(group.helper, storeId, `Zeitpunkt;Temperatur °C\n${rows.join('\n')}\n`)
    expect(performance.now() - began).toBeLessThan(20_000)
    expect(written.written).toBe(20_000)
    expect(await readingsIn(storeId)).toBe(20_000)
    const view = await storeReadings(database.db, group.member, {
      storeId,
      kind: 'fridge',
      typedCelsius: null,
    })
    expect(view.count).toBe(20_000)
    expect(view.hours.length).toBeLessThan(5_100)
  })
})

describe('an import', () => {
  test('moves the windows of the wood that lay there, and its taking back moves them again', async () => {
    const { db } = database
    const early = async () => {
      const view = await getLot(db, group.member, wood.code)
      const stored = await storedWindows(db, group.groupId, 'Europe/London', [wood.lotId])
      if (view?.window.kind !== 'window') throw new Error('No window')
      expect(stored.get(wood.lotId)).toMatchObject({ early: view.window.early, late: view.window.late })
      return view.window.early
    }
    const before = await early()
    const { importId } = await importWhole(
      group.helper,
      wood.storeId,
      hourly(24 * 20, () => 12),
    )
    const warm = await early()
    expect(warm < before).toBe(true)
    const taken = await takeBackImport(db, group.helper, {
      key: randomUUID(),
      importId,
      reason: 'It lay on the shelf',
    })
    expect(taken).toMatchObject({ value: { storeId: wood.storeId, readings: 480 } })
    expect(await early()).toBe(before)
    expect(await readingsIn(wood.storeId)).toBe(0)
  })

  test('stays on the record with why it was taken back, once', async () => {
    const storeId = await freshStore()
    const { importId } = await importWhole(group.helper, storeId, hourly(5))
    const input = { key: randomUUID(), importId, reason: 'Wrong fridge' }
    const first = await takeBackImport(database.db, group.organiser, input)
    expect(await takeBackImport(database.db, group.organiser, input)).toEqual(first)
    expect(await takeBackImport(database.db, group.organiser, { ...input, key: randomUUID() })).toMatchObject(
      {
        refusal: { kind: 'taken-back-already' },
      },
    )
    expect(await findImport(database.db, group.member, storeId, importId)).toMatchObject({
      readings: 5,
      importedBy: 'Hetty Helper',
      takenBack: { by: 'Olive Organiser', reason: 'Wrong fridge' },
    })
    const said = await database.db.prisma.auditEntry.findMany({
      where: { groupId: group.groupId, subject: `store:${storeId}` },
    })
    expect(said.map(({ action }) => action).sort()).toEqual(['import-readings', 'take-back-import'])
    // What was taken back can be brought again.
    expect((await importWhole(group.helper, storeId, hourly(5))).written).toBe(5)
  })

  test('leaves typed readings as they are', async () => {
    const storeId = await freshStore()
    await reportReading(database.db, group.helper, {
      key: randomUUID(),
      storeId,
      onDay: civilDate('2027-01-12'),
      atTime: '00:00',
      celsius: 3,
      basis: 'typed',
    })
    const { importId, written } = await importWhole(group.helper, storeId, hourly(3))
    expect(written).toBe(2)
    await takeBackImport(database.db, group.helper, { key: randomUUID(), importId, reason: 'Wrong fridge' })
    expect(await readingsIn(storeId)).toBe(1)
  })

  test('leaves as a file that can be brought back', async () => {
    const [storeId, other] = [await freshStore(), await freshStore()]
    await importWhole(
      group.helper,
      storeId,
      hourly(10, (i) => i - 4.25),
    )
    const file = await readingsCsv(database.db, group.member, storeId)
    expect(file?.text.split('\r\n')[1]).toBe(
      `${hour(0).replace('Z', 'Z')},-4.25,logger,Hetty Helper,logger.csv`,
    )
    expect((await importWhole(group.helper, other, file?.text ?? '')).written).toBe(10)
  })
})

describe('who may bring and take back', () => {
  test('helpers, and whoever keeps the store', async () => {
    const storeId = await freshStore()
    const input = () => ({ key: randomUUID(), storeId, fileName: 'x.csv', bytes: new Uint8Array([65]) })
    expect(await draftReadings(database.db, group.member, input())).toMatchObject({
      refusal: { kind: 'not-your-store' },
    })
    const { importId } = await importWhole(group.helper, storeId, hourly(2))
    const takeBack = { key: randomUUID(), importId, reason: 'Wrong fridge' }
    expect(await takeBackImport(database.db, group.member, takeBack)).toMatchObject({
      refusal: { kind: 'not-your-store' },
    })
    const where = { groupId_id: { groupId: group.groupId, id: storeId } }
    await database.db.prisma.store.update({ where, data: { keeperId: group.member.memberId } })
    expect((await draftReadings(database.db, group.member, input())).ok).toBe(true)
    expect((await takeBackImport(database.db, group.member, takeBack)).ok).toBe(true)
  })

  test('nobody sees another’s file, nor anything of another group', async () => {
    const storeId = await freshStore()
    const draft = await bring(group.helper, storeId, hourly(3))
    const { mark } = await preview(group.helper, draft)
    const others = await makeGroup(database.db)
    for (const actor of [group.organiser, others.organiser]) {
      expect(await previewReadings(database.db, actor, draft, unanswered)).toMatchObject({
        refusal: { kind: 'draft-gone' },
      })
      expect(await write(actor, draft, mark)).toMatchObject({ refusal: { kind: 'draft-gone' } })
    }
    const { importId } = await importWhole(group.helper, storeId, hourly(3))
    expect(
      await takeBackImport(database.db, others.organiser, { key: randomUUID(), importId, reason: 'x' }),
    ).toMatchObject({ refusal: { kind: 'not-found' } })
    expect(await readingsCsv(database.db, others.organiser, storeId)).toBeNull()
    expect(await findImport(database.db, others.organiser, storeId, importId)).toBeNull()
    expect(
      await draftReadings(database.db, others.organiser, {
        key: randomUUID(),
        storeId,
        fileName: 'x',
        bytes: new Uint8Array([65]),
      }),
    ).toMatchObject({ refusal: { kind: 'not-found' } })
  })
})

describe('the tables refuse, whoever writes', () => {
  const hash = createHash('sha256').update('x').digest('hex')
  let ids: Record<string, string>
  beforeAll(async () => {
    const storeId = await freshStore()
    const [standing, takenBack] = [
      await importWhole(group.helper, storeId, hourly(3)),
      await importWhole(group.helper, storeId, hourly(6)),
    ]
    await takeBackImport(database.db, group.helper, {
      key: randomUUID(),
      importId: takenBack.importId,
      reason: 'x',
    })
    const other = await makeGroup(database.db)
    const theirs = await makeLot(database.db, other)
    await bring(group.helper, storeId, hourly(2))
    ids = {
      group: group.groupId,
      store: storeId,
      otherStore: wood.storeId,
      theirStore: theirs.storeId,
      member: group.member.memberId,
      theirMember: other.member.memberId,
      standing: standing.importId,
      takenBack: takenBack.importId,
      fresh: database.db.newId(),
    }
  })
  const filled = (sql: string) => sql.replace(/\{(\w+)\}/g, (_, name: string) => `'${ids[name]}'`)
  const newImport = (more: Record<string, string> = {}) => {
    const values = {
      store: '{store}',
      name: `'x'`,
      hash: `'${hash}'`,
      written: '1',
      first: 'now()',
      last: 'now()',
      low: '1',
      high: '2',
      by: '{member}',
      ...more,
    }
    return `insert into reading_import (group_id, id, store_id, file_name, file_hash, readings_written, first_at, last_at, lowest, highest, imported_by_id, imported_at)
      values ({group}, {fresh}, ${values.store}, ${values.name}, ${values.hash}, ${values.written}, ${values.first}, ${values.last}, ${values.low}, ${values.high}, ${values.by}, now())`
  }
  const newReading = (importId: string, more: { store?: string; basis?: string } = {}) =>
    `insert into reading (group_id, store_id, at, celsius, basis, import_id) values ({group}, ${more.store ?? '{store}'}, now(), 3, '${more.basis ?? 'logger'}', ${importId})`

  test.each([
    ['an import without a name', newImport({ name: `' '` }), 'reading_import_names_its_file'],
    ['an import without a hash', newImport({ hash: `repeat('x', 64)` }), 'reading_import_names_its_file'],
    ['an import of nothing', newImport({ written: '0' }), 'reading_import_brought_something'],
    [
      'an import that runs backwards',
      newImport({ last: `now() - interval '1 day'` }),
      'reading_import_runs_forwards',
    ],
    ['a lowest above the highest', newImport({ low: '3' }), 'reading_import_runs_forwards'],
    [
      'an import into their store',
      newImport({ store: '{theirStore}' }),
      'reading_import_group_id_store_id_fkey',
    ],
    [
      'an import by one of them',
      newImport({ by: '{theirMember}' }),
      'reading_import_group_id_imported_by_id_fkey',
    ],
    [
      'a typed reading of a file',
      newReading('{standing}', { basis: 'typed' }),
      'reading_of_a_file_is_a_loggers',
    ],
    [
      'a reading of another store’s file',
      newReading('{standing}', { store: '{otherStore}' }),
      'reading_group_id_import_id_store_id_fkey',
    ],
    [
      'a draft without a name',
      `insert into reading_draft values ({group}, {fresh}, {store}, {member}, '', 'x', now())`,
      'reading_draft_names_its_file',
    ],
    [
      'a draft of nothing',
      `insert into reading_draft values ({group}, {fresh}, {store}, {member}, 'x', '', now())`,
      'reading_draft_is_of_a_bearable_size',
    ],
    [
      'a draft of 4 MB',
      `insert into reading_draft values ({group}, {fresh}, {store}, {member}, 'x', convert_to(repeat('x', 4194304), 'utf8'), now())`,
      'reading_draft_is_of_a_bearable_size',
    ],
    [
      'a draft for their store',
      `insert into reading_draft values ({group}, {fresh}, {theirStore}, {member}, 'x', 'x', now())`,
      'reading_draft_group_id_store_id_fkey',
    ],
    [
      'a draft of one of them',
      `insert into reading_draft values ({group}, {fresh}, {store}, {theirMember}, 'x', 'x', now())`,
      'reading_draft_group_id_drafted_by_id_fkey',
    ],
  ])('%s', async (_what, sql, constraint) => {
    expect(await owner.attack([filled(sql)])).toMatchObject({ constraint })
    expect(await application.attack([filled(sql)])).toMatchObject({ constraint })
  })

  test('the same rows without the fault are taken', async () => {
    expect(await application.attack([filled(newImport())])).toMatchObject({ state: 'accepted' })
    expect(await application.attack([filled(newReading('{standing}'))])).toMatchObject({ state: 'accepted' })
  })

  test('a reading that joins an import which was taken back', async () => {
    expect(await application.attack([filled(newReading('{takenBack}'))])).toMatchObject({ state: 'TW022' })
  })

  test.each([
    'update reading set celsius = 1',
    'delete from reading where import_id is null',
    'delete from reading where import_id = {standing}',
    'truncate reading cascade',
    'delete from reading_import',
    'truncate reading_import cascade',
    `update reading_import set file_name = 'other'`,
    `update reading_import set taken_back_at = null, taken_back_by_id = null, taken_back_reason = null where id = {takenBack}`,
    `update reading_import set taken_back_reason = 'another' where id = {takenBack}`,
    `update reading_import set readings_written = 9, taken_back_at = now(), taken_back_by_id = {member}, taken_back_reason = 'x' where id = {standing}`,
  ])('what is written stays: %s', async (sql) => {
    await reportReading(database.db, group.helper, {
      key: randomUUID(),
      storeId: ids['store'] ?? '',
      onDay: civilDate('2027-02-01'),
      celsius: 3,
      basis: 'typed',
    })
    expect(await owner.attack([filled(sql)])).toMatchObject({ state: 'TW001' })
    expect(await application.attack([filled(sql)])).toMatchObject({ state: '42501' })
  })

  test('a taking back that does not say why', async () => {
    const call = (reason: string) =>
      `select take_back_reading_import({group}, {standing}, {member}, now(), ${reason})`
    const refused = { constraint: 'reading_import_taken_back_says_who_when_why' }
    expect(await application.attack([filled(call(`' '`))])).toMatchObject(refused)
    expect(await application.attack([filled(call('null'))])).toMatchObject(refused)
    expect(await application.attack([filled(call(`'x'`))], [filled(call(`'x'`))])).toMatchObject({
      state: 'TW022',
    })
  })
})
