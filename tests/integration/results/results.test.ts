import { randomUUID } from 'node:crypto'
import { beforeEach, describe, expect, test } from 'vitest'
import { RecordAttemptInput, RecordCheckInput, WithdrawAttemptInput } from '#lib/attempts/input.ts'
import { recordAttempt } from '#lib/attempts/record-attempt.ts'
import { recordCheck } from '#lib/attempts/record-check.ts'
import { withdrawAttempt } from '#lib/attempts/withdraw-attempt.ts'
import { required } from '#lib/kernel/assert.ts'
import { civilDate } from '#lib/kernel/civil-date.ts'
import { resultsChoices } from '#lib/results/outcome-tallies.ts'
import { getResults, resultsByMethod, resultsByVariety } from '#lib/results/results.ts'
import { resultsCsv } from '#lib/results/results-csv.ts'
import { makeGroup, makeLot, type TestGroup } from '#tests/support/actors.ts'
import { testDatabase } from '#tests/support/database.ts'

const database = testDatabase({ now: () => new Date('2026-09-01T10:00:00Z') })
let group: TestGroup

beforeEach(async () => {
  group = await makeGroup(database.db)
})

interface Batch {
  readonly varietyId: string
  readonly pieces: number
  readonly method?: string
  readonly treatment?: string
  readonly madeOn?: string
  readonly seen?: readonly [alive: number, dead: number, unknown: number]
  readonly checkedOn?: string
}

async function aBatch({ seen, checkedOn, ...batch }: Batch): Promise<string> {
  const { db } = database
  const attempt = await recordAttempt(
    db,
    group.member,
    RecordAttemptInput.parse({
      key: randomUUID(),
      source: 'own',
      method: 'cleft',
      madeOn: '2026-03-20',
      ...batch,
    }),
  )
  const attemptId = required(attempt.ok ? attempt.value.attemptId : null, 'an attempt')
  if (seen) await aLook(attemptId, seen, checkedOn)
  return attemptId
}

async function aLook(
  attemptId: string,
  [alive, dead, unknown]: readonly [number, number, number],
  checkedOn = '2026-06-20',
  supersedesId?: string,
): Promise<string> {
  const input = RecordCheckInput.parse({
    key: randomUUID(),
    attemptId,
    checkedOn,
    alive,
    dead,
    unknown,
    supersedesId,
  })
  const result = await recordCheck(database.db, group.member, input)
  return required(result.ok ? result.value.checkId : null, 'a look')
}

const variety = async (varietyName: string, taxonKey?: string) =>
  (await makeLot(database.db, group, { varietyName, ...(taxonKey ? { taxonKey } : {}) })).varietyId

describe('results by variety', () => {
  test('give counts, the Wilson interval and the worst and best that the unknown ones allow', async () => {
    const varietyId = await variety('Egremont Russet')
    // 12 took, 3 failed, 7 not known: 0.548 to 0.930, and somewhere between 55 % and 86 %: Wilson (1927) by hand.
    await aBatch({ varietyId, pieces: 12, seen: [7, 2, 3] })
    await aBatch({ varietyId, pieces: 10, seen: [5, 1, 4] })
    await aBatch({ varietyId, pieces: 8 })
    const { grafts } = await resultsByVariety(database.db, group.member)
    expect(grafts.rows).toHaveLength(1)
    const [row] = grafts.rows
    expect(row).toMatchObject({ pieces: 30, pending: 8, unknown: 7, attempts: 3, growers: 1 })
    expect(row?.rate).toMatchObject({ kind: 'shown', alive: 12, known: 15, rate: 0.8 })
    if (row?.rate.kind !== 'shown') return
    expect(row.rate.interval.low).toBeCloseTo(0.5481, 4)
    expect(row.rate.interval.high).toBeCloseTo(0.9295, 4)
    expect(row.rate.worst).toBeCloseTo(12 / 22, 12)
    expect(row.rate.best).toBeCloseTo(19 / 22, 12)
  })

  test('hide the outcomes below five known ones, in the table, its total and the file', async () => {
    const [many, few] = [await variety('Many'), await variety('Few')]
    await aBatch({ varietyId: many, pieces: 9, seen: [6, 3, 0] })
    await aBatch({ varietyId: few, pieces: 4, seen: [1, 3, 0] })
    const results = await getResults(database.db, group.member)
    const { rows, total } = results.byVariety.grafts
    expect(rows.find((row) => row.varietyName === 'Few')?.rate).toEqual({
      kind: 'not-enough',
      known: 4,
      needs: 1,
    })
    expect(JSON.stringify(rows.find((row) => row.varietyName === 'Few'))).not.toContain('alive')
    expect(total.rate).toMatchObject({ alive: 6, known: 9 })
    const line = resultsCsv(results)
      .split('\r\n')
      .find((text) => text.includes('Few'))
    expect(line).toMatch(/^by variety,grafts,apple,Few,,,1,1,4,0,0,4,,,,,,,1$/)
  })

  test('count the latest look that stands, and no withdrawn attempt', async () => {
    const varietyId = await variety('Bramley')
    const attemptId = await aBatch({ varietyId, pieces: 8, seen: [8, 0, 0], checkedOn: '2026-04-20' })
    const wrong = await aLook(attemptId, [0, 8, 0], '2026-07-01')
    await aLook(attemptId, [5, 3, 0], '2026-07-01', wrong)
    const mistake = await aBatch({ varietyId, pieces: 50, seen: [50, 0, 0] })
    const withdrawal = WithdrawAttemptInput.parse({ key: randomUUID(), attemptId: mistake, reason: 'twice' })
    await withdrawAttempt(database.db, group.member, withdrawal)
    const { grafts } = await resultsByVariety(database.db, group.member)
    expect(grafts.rows[0]?.rate).toMatchObject({ alive: 5, known: 8 })
    expect(grafts).toMatchObject({ pieces: 8, known: 8 })
  })

  test('count the looks that were made within thirty days', async () => {
    const varietyId = await variety('Bramley')
    await aBatch({ varietyId, pieces: 8, seen: [8, 0, 0], checkedOn: '2026-04-18' })
    await aBatch({ varietyId, pieces: 5, seen: [5, 0, 0], checkedOn: '2026-04-19' })
    const { grafts } = await resultsByVariety(database.db, group.member)
    expect(grafts).toMatchObject({ earlyAttempts: 1, earlyPieces: 8 })
  })

  test('keep take and rooting apart and sort by crop, never by rank', async () => {
    const { db } = database
    await db.prisma.taxon.upsert({
      where: { key: 'ficus-carica' },
      update: {},
      create: {
        key: 'ficus-carica',
        genus: 'Ficus',
        species: 'carica',
        commonName: 'fig',
        family: 'Moraceae',
        storageProfile: 'fig',
      },
    })
    const fig = await variety('Aardvark Fig', 'ficus-carica')
    const [worse, better] = [await variety('Annie'), await variety('Zoe')]
    await aBatch({ varietyId: fig, pieces: 6, seen: [6, 0, 0] })
    await aBatch({ varietyId: better, pieces: 6, seen: [6, 0, 0] })
    await aBatch({ varietyId: worse, pieces: 6, seen: [1, 5, 0] })
    await aBatch({ varietyId: fig, pieces: 10, method: 'hardwood-cutting', seen: [7, 3, 0] })
    const { grafts, rooting } = await resultsByVariety(db, group.member)
    expect(grafts.rows.map((row) => row.varietyName)).toEqual(['Annie', 'Zoe', 'Aardvark Fig'])
    expect(rooting.rows.map((row) => [row.varietyName, row.pieces])).toEqual([['Aardvark Fig', 10]])
    expect(rooting.total.rate).toMatchObject({ alive: 7, known: 10 })
  })

  test('can be narrowed to a season and a crop', async () => {
    const varietyId = await variety('Bramley')
    await aBatch({ varietyId, pieces: 5, madeOn: '2025-03-01', seen: [5, 0, 0] })
    await aBatch({ varietyId, pieces: 7, madeOn: '2026-03-01', seen: [5, 2, 0] })
    const filter = { from: civilDate('2025-09-01'), to: civilDate('2026-08-31') }
    expect((await resultsByVariety(database.db, group.member, filter)).grafts.pieces).toBe(7)
    const none = await resultsByVariety(database.db, group.member, { taxonKey: 'pyrus-communis' })
    expect(none.grafts.rows).toEqual([])
    expect(await resultsChoices(database.db, group.member)).toEqual({
      seasons: [2025, 2024],
      crops: [{ taxonKey: 'malus-domestica', commonName: 'apple' }],
    })
  })

  test('hold nothing of another group', async () => {
    const varietyId = await variety('Bramley')
    await aBatch({ varietyId, pieces: 5, seen: [5, 0, 0] })
    const elsewhere = await makeGroup(database.db, 'Elsewhere')
    const { grafts, rooting } = await resultsByVariety(database.db, elsewhere.organiser)
    expect([...grafts.rows, ...rooting.rows]).toEqual([])
    expect((await resultsChoices(database.db, elsewhere.organiser)).seasons).toEqual([])
  })
})

describe('results by method', () => {
  test('have the treatments beneath the method, and none where none was noted', async () => {
    const varietyId = await variety('Victoria')
    const method = 'root-cutting'
    await aBatch({ varietyId, pieces: 10, method, treatment: 'short', seen: [3, 7, 0] })
    await aBatch({ varietyId, pieces: 10, method, treatment: 'long', seen: [6, 4, 0] })
    await aBatch({ varietyId, pieces: 6, method: 'cleft', seen: [5, 1, 0] })
    await aBatch({ varietyId, pieces: 6, method: 'whip-and-tongue', seen: [4, 2, 0] })
    const { grafts, rooting } = await resultsByMethod(database.db, group.member)
    expect(grafts.rows.map((row) => [row.methodName, row.treatments])).toEqual([
      ['Whip and tongue', []],
      ['Cleft', []],
    ])
    expect(rooting.rows[0]?.rate).toMatchObject({ alive: 9, known: 20 })
    expect(rooting.rows[0]?.treatments.map((row) => [row.treatment, row.pieces])).toEqual([
      ['long', 10],
      ['short', 10],
    ])
  })
})

describe('the file', () => {
  test('quotes what needs it and disarms what a spreadsheet would run', async () => {
    const varietyId = await variety('=1+1, "odd"')
    await aBatch({ varietyId, pieces: 6, seen: [4, 2, 0] })
    const text = resultsCsv(await getResults(database.db, group.member))
    expect(text.startsWith('\uFEFFtable,kind,crop')).toBe(true)
    expect(text).toContain(`"'=1+1, ""odd"""`)
    expect(text).toContain(',6,4,0.6667,0.3,0.9032,0.6667,0.6667,')
  })
})
