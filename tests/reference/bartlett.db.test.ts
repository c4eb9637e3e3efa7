import { fileURLToPath } from 'node:url'
import { beforeAll, describe, expect, test } from 'vitest'
import { required } from '#lib/kernel/assert.ts'
import { resultsByMethod } from '#lib/results/results.ts'
import { makeGroup, type TestGroup } from '#tests/support/actors.ts'
import { testDatabase } from '#tests/support/database.ts'
import { importCommand } from '../../scripts/import.ts'

// Plum root cuttings of Hoblyn & Palmer (1934) as M. S. Bartlett gives them: "Contingency table interactions",
// Supplement to the Journal of the Royal Statistical Society 2 (1935), 248–252. Of 240 cuttings in each cell
// there lived: long, planted at once 156; short, at once 107; long, in spring 84; short, in spring 31. The counts
// were read in the R packages vcdExtra (Bartlett) and MLGdata (Bartlett2), which agree.
const file = fileURLToPath(new URL('./data/bartlett-1935.csv', import.meta.url))

const alive = {
  'long, planted at once': 156,
  'short, planted at once': 107,
  'long, planted in spring': 84,
  'short, planted in spring': 31,
}

// R 4.2.2, prop.test(k, 240, correct = FALSE): Wilson's score limits at 95 %.
const limits: Record<string, readonly [number, number]> = {
  'long, planted at once': [0.58772363, 0.70755019],
}

/** Wilson (1927): the two roots p of (x/n − p)² = z² p (1 − p) / n, with z the 97.5 % point of the normal. */
function publishedLimits(x: number, n: number): readonly [number, number] {
  const z = 1.959963984540054
  const a = n + z * z
  const b = -(2 * x + z * z)
  const c = (x * x) / n
  const root = Math.sqrt(b * b - 4 * a * c)
  return [(-b - root) / (2 * a), (-b + root) / (2 * a)]
}

const database = testDatabase({ now: () => new Date('2026-06-01T10:00:00Z') })
let group: TestGroup

beforeAll(async () => {
  group = await makeGroup(database.db)
  await database.db.prisma.taxon.create({
    data: {
      key: 'prunus-domestica',
      genus: 'Prunus',
      species: 'domestica',
      commonName: 'European plum',
      family: 'Rosaceae',
      storageProfile: 'plum_european',
    },
  })
})

const importAgain = () =>
  importCommand(['outcomes', file, '--group', group.slug, '--create-varieties'], database.db)

describe('960 plum root cuttings, one row each', () => {
  test('come in through the import command', async () => {
    const { isDone, lines } = await importAgain()
    expect(lines.at(-1)).toBe('960 rows read, 960 batches written, 0 rows left out.')
    expect(isDone).toBe(true)
  })

  test('are shown by method and treatment with Bartlett’s counts and the published limits', async () => {
    const { grafts, rooting } = await resultsByMethod(database.db, group.member)
    expect(grafts.rows).toEqual([])
    const [method, ...others] = rooting.rows
    expect(others).toEqual([])
    expect(method).toMatchObject({ method: 'root-cutting', attempts: 960, pieces: 960 })
    expect(method?.rate).toMatchObject({ alive: 378, known: 960 })
    const shown = required(method, 'the method').treatments.map(({ treatment, rate }) => [
      treatment,
      rate.kind === 'shown' ? [rate.alive, rate.known] : null,
    ])
    expect(Object.fromEntries(shown)).toEqual(
      Object.fromEntries(Object.entries(alive).map(([treatment, count]) => [treatment, [count, 240]])),
    )
  })

  test.each(Object.entries(alive))('%s: Wilson’s limits of %i of 240', async (treatment, count) => {
    const { rooting } = await resultsByMethod(database.db, group.member)
    const row = rooting.rows[0]?.treatments.find((candidate) => candidate.treatment === treatment)
    const interval = row?.rate.kind === 'shown' ? row.rate.interval : null
    const { low, high } = required(interval, 'the interval')
    const [publishedLow, publishedHigh] = publishedLimits(count, 240)
    expect(low).toBeCloseTo(publishedLow, 12)
    expect(high).toBeCloseTo(publishedHigh, 12)
    const printed = limits[treatment]
    if (printed) {
      expect(low).toBeCloseTo(printed[0], 8)
      expect(high).toBeCloseTo(printed[1], 8)
    }
  })

  test('are not taken in twice', async () => {
    const { isDone, lines } = await importAgain()
    expect(isDone).toBe(false)
    expect(lines[0]).toBe(
      'This very file was imported on 2026-06-01 as bartlett-1935.csv, and 960 entries came of it.',
    )
    expect(await database.db.prisma.attempt.count()).toBe(960)
  })
})
