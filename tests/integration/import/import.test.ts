import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeEach, describe, expect, test } from 'vitest'
import { importOutcomes } from '#lib/attempts/import-outcomes.ts'
import { formatCode, issueCode } from '#lib/grafting/codes.ts'
import { required } from '#lib/kernel/assert.ts'
import { verifyLedger } from '#lib/ledger/verify-ledger.ts'
import { resultsByVariety } from '#lib/results/results.ts'
import { makeGroup, makeLot, type TestGroup } from '#tests/support/actors.ts'
import { testDatabase } from '#tests/support/database.ts'
import { importCommand } from '../../../scripts/import.ts'

const database = testDatabase({ now: () => new Date('2026-06-01T10:00:00Z') })
const folder = mkdtempSync(join(tmpdir(), 'tallywood-import-'))
afterAll(() => rmSync(folder, { recursive: true }))

let group: TestGroup
let files = 0

beforeEach(async () => {
  group = await makeGroup(database.db)
  await makeLot(database.db, group, { varietyName: 'Egremont Russet' })
  const taxa = [
    { key: 'prunus-domestica', genus: 'Prunus', species: 'domestica', commonName: 'European plum' },
    { key: 'prunus-salicina', genus: 'Prunus', species: 'salicina', commonName: 'Japanese plum' },
  ]
  await database.db.prisma.taxon.createMany({
    data: taxa.map((taxon) => ({ ...taxon, family: 'Rosaceae', storageProfile: 'plum_european' })),
    skipDuplicates: true,
  })
})

const fileOf = (lines: readonly string[]): string => {
  files++
  const path = join(folder, `sheet-${files}.csv`)
  writeFileSync(path, `${lines.join('\n')}\n`)
  return path
}

const run = (kind: string, lines: readonly string[], ...options: readonly string[]) =>
  importCommand([kind, fileOf(lines), '--group', group.slug, ...options], database.db)

const heading = 'variety,method,made on,pieces,alive,dead,unknown,checked on,grower'
const good = 'Egremont Russet,cleft,2026-03-20,6,4,1,1,2026-05-20,Mabel Member'
const batches = () => database.db.prisma.attempt.findMany({ where: { groupId: group.groupId } })

describe('importing outcomes', () => {
  test('makes a batch and its look of each row', async () => {
    const { isDone, lines } = await run('outcomes', [
      heading,
      good,
      '‘Egremont russet’,Whip and tongue,14/04/2026,3,,,,,',
    ])
    expect(lines).toEqual(['2 rows read, 2 batches written, 0 rows left out.'])
    expect(isDone).toBe(true)
    const [first, second] = (await batches()).sort((a, b) => b.pieces - a.pieces)
    expect(first).toMatchObject({ method: 'cleft', growerId: group.member.memberId, sticksUsed: 0 })
    expect(second).toMatchObject({ method: 'whip-and-tongue', growerId: group.organiser.memberId })
    const { grafts } = await resultsByVariety(database.db, group.member)
    expect(grafts.rows[0]).toMatchObject({ pieces: 9, pending: 3, unknown: 1, rate: { known: 5, alive: 4 } })
    expect(await verifyLedger(database.db, group.groupId)).toEqual([])
  })

  test('names every bad row with its line, column and reason, and writes nothing', async () => {
    const { isDone, lines } = await run('outcomes', [
      heading,
      good,
      'Nobody Knows,cleft,2026-03-20,6,,,,,',
      'Egremont Russet,glue,2026-03-20,six,,,,,',
      'Egremont Russet,cleft,2026-03-20,6,4,1,0,2026-05-20,Who Ever',
      'Egremont Russet,cleft,2026-07-20,6,,,,,',
      'Egremont Russet,cleft,2026-03-20,6,4,2,,2026-03-19,',
      'Egremont Russet,cleft,31/04/2026,6,4,2,,,',
      'Egremont Russet,cleft,2026-03-20,6,4,2,0,2026-05-20,,one, too many',
    ])
    expect(isDone).toBe(false)
    expect(lines).toContain(
      'line 3, variety: “Nobody Knows” is not in the list of varieties; add it, or use --create-varieties',
    )
    expect(lines).toContain('line 4, pieces: “six” is not a whole number from 1 to 10000')
    expect(
      lines.find((line) => line.startsWith('line 4, method: “glue” is none of: whip and tongue,')),
    ).toBeDefined()
    expect(lines).toContain('line 5, pieces: 6 were made; alive, dead and unknown come to 5')
    expect(
      lines.find((line) => line.startsWith('line 5, grower: nobody here is called “Who Ever”')),
    ).toBeDefined()
    expect(lines).toContain('line 6, made on: 2026-07-20 has not come yet')
    expect(lines).toContain('line 7, checked on: 2026-03-19 is before the day it was made, 2026-03-20')
    expect(lines).toContain(
      'line 8, made on: “31/04/2026” is not a day; write it as 2026-03-14 or 14 March 2026',
    )
    expect(lines).toContain(
      'line 8, checked on: is empty, but there are counts: say on which day somebody looked',
    )
    expect(lines.find((line) => line.startsWith('line 9 has 11 cells, the heading 9'))).toBeDefined()
    expect(lines.at(-2)).toBe('7 rows cannot be read as they are; 1 can. Nothing was written.')
    expect(await batches()).toEqual([])
  })

  test('leaves bad rows out when told to, and names them', async () => {
    const { isDone, lines } = await run(
      'outcomes',
      [heading, good, 'X,cleft,2026-03-20,6,,,,,'],
      '--skip-bad',
    )
    expect(isDone).toBe(true)
    expect(lines[0]).toMatch(/^left out: line 3, variety:/)
    expect(lines.at(-1)).toBe('2 rows read, 1 batch written, 1 row left out.')
    expect(await batches()).toHaveLength(1)
  })

  test('asks for the order of days before it reads any, even when it may skip', async () => {
    const rows = [heading, 'Egremont Russet,cleft,03/04/2026,6,,,,,']
    const asked = await run('outcomes', rows, '--skip-bad')
    expect(asked.lines).toEqual([
      'line 2, made on: “03/04/2026” may be 2026-04-03 or 2026-03-04',
      '1 day can be read two ways. Say --dates dmy (day first) or --dates mdy (month first). Nothing was written.',
    ])
    await run('outcomes', rows, '--dates', 'dmy')
    expect((await batches()).map(({ madeOn }) => madeOn.toISOString().slice(0, 10))).toEqual(['2026-04-03'])
  })

  test('adds varieties when told to, if the crop is said', async () => {
    const rows = [
      'variety;crop;method;made on;pieces',
      'Victoria;European plums;cleft;2026-03-20;4',
      'victoria;Prunus domestica;cleft;2026-03-21;4',
    ]
    expect((await run('outcomes', rows)).isDone).toBe(false)
    const { lines } = await run('outcomes', rows, '--create-varieties')
    expect(lines[0]).toBe('Varieties added: Victoria.')
    const varieties = await database.db.prisma.variety.findMany({
      where: { groupId: group.groupId, taxonKey: 'prunus-domestica' },
    })
    expect(varieties.map(({ name }) => name)).toEqual(['Victoria'])
    const unclear = await run('outcomes', [heading, 'New One,cleft,2026-03-20,4,,,,,'], '--create-varieties')
    expect(unclear.lines[0]).toContain('so the column “crop” must say what kind of fruit it is')
    const near = await run(
      'outcomes',
      [rows[0] ?? '', 'New One;plum;cleft;2026-03-20;4'],
      '--create-varieties',
    )
    expect(near.lines[0]).toBe(
      'line 2, crop: no kind of fruit is called “plum”; near: European plum, Japanese plum',
    )
  })

  test('refuses the same file the second time, under whatever name', async () => {
    await run('outcomes', [heading, good])
    const { isDone, lines } = await run('outcomes', [heading, good], '--skip-bad')
    expect(isDone).toBe(false)
    expect(lines[0]).toMatch(
      /^This very file was imported on 2026-06-01 as sheet-\d+\.csv, and 1 entry came of it\.$/,
    )
    expect(await batches()).toHaveLength(1)
  })

  test('knows the rows of an earlier file, also in another order of columns, and takes only the new ones', async () => {
    await run('outcomes', [heading, good])
    const more = [
      'pieces,variety,method,made on,alive,dead,unknown,checked on,grower',
      '6,Egremont Russet,cleft,2026-03-20,4,1,1,2026-05-20,Mabel Member',
      '6,Egremont Russet,cleft,2026-03-20,4,1,1,2026-05-20,Mabel Member',
    ]
    const refused = await run('outcomes', more)
    expect(refused.lines[0]).toBe('line 2 was imported before, word for word')
    const { lines } = await run('outcomes', more, '--skip-bad')
    expect(lines.at(-1)).toBe('2 rows read, 1 batch written, 1 row left out.')
    expect(await batches()).toHaveLength(2)
  })

  test('takes everything back after a dry run', async () => {
    const rows = [heading, good]
    const { lines } = await run('outcomes', rows, '--dry-run')
    expect(lines).toEqual([
      '1 row read, 1 batch would be written, 0 rows left out.',
      'This was a dry run: nothing was written.',
    ])
    expect(await batches()).toEqual([])
    expect((await run('outcomes', rows)).isDone).toBe(true)
  })

  test('is for organisers, and reaches no other group', async () => {
    const file = { name: 'x.csv', bytes: new TextEncoder().encode(`${heading}\n${good}\n`) }
    const options = { dates: null, skipBad: false, dryRun: false, createVarieties: false } as const
    expect(await importOutcomes(database.db, group.helper, file, options)).toMatchObject({
      ok: false,
      refusal: { kind: 'not-allowed', right: 'import-data' },
    })
    const elsewhere = await makeGroup(database.db, 'Elsewhere')
    const result = await importOutcomes(database.db, elsewhere.organiser, file, options)
    expect(result).toMatchObject({ ok: false, refusal: { kind: 'bad-rows', good: 0 } })
  })
})

describe('importing members', () => {
  test('adds people without accounts', async () => {
    const { lines } = await run('members', [
      'Name\tRole\tE-mail',
      'Wren Ashby\thelper\twren@example.org',
      'Josefine Möller\t\t',
    ])
    expect(lines).toEqual(['2 rows read, 2 people written, 0 rows left out.'])
    const wren = await database.db.prisma.member.findFirstOrThrow({
      where: { groupId: group.groupId, displayName: 'Wren Ashby' },
    })
    expect(wren).toMatchObject({ role: 'helper', email: 'wren@example.org', loginId: null })
  })

  test('refuses people who are here, twice in the file, or without a proper address', async () => {
    const { isDone, lines } = await run('members', [
      'name,role,email',
      'mabel member,,',
      'Wren Ashby,,',
      'WREN ASHBY,,',
      'Joss,captain,',
      'Jess,,nowhere',
    ])
    expect(isDone).toBe(false)
    expect(lines.slice(0, 4)).toEqual([
      'line 2, name: “mabel member” is in the group already',
      'line 4, name: “WREN ASHBY” stands in line 3 too',
      'line 5, role: “captain” is none of: organiser, steward, helper, member',
      'line 6, email: Enter an e-mail address, such as wren@example.org',
    ])
  })
})

describe('importing trees', () => {
  test('makes one tree of the rows that name it, and says which code it got', async () => {
    const { isDone, lines } = await run('trees', [
      'tree,keeper,place,limb,variety,height cm,origin',
      'T1,Mabel Member,by the shed,,Egremont Russet,90,own',
      'T1,Mabel Member,,B,,140,',
      ',Otto Other,,,Egremont Russet,,',
    ])
    expect(lines.at(-1)).toBe('3 rows read, 2 trees written, 0 rows left out.')
    expect(isDone).toBe(true)
    expect(lines[0]).toMatch(/^Tree “T1” has the code \w{3}-\w{3}\.$/)
    const tree = await database.db.prisma.tree.findFirstOrThrow({
      where: { groupId: group.groupId, place: 'by the shed' },
      include: { limbs: { orderBy: { mark: 'asc' } } },
    })
    expect(tree.limbs.map(({ mark, heightCm, origin }) => [mark, heightCm, origin])).toEqual([
      ['A', 90, 'own'],
      ['B', 140, 'unknown'],
    ])
  })

  test('leaves a whole tree out when one of its rows is bad', async () => {
    const { lines } = await run(
      'trees',
      [
        'tree,keeper,place,variety',
        'T1,Mabel Member,shed,Egremont Russet',
        'T1,Mabel Member,barn,Nobody Knows',
        'T2,Mabel Member,,Egremont Russet',
      ],
      '--skip-bad',
    )
    expect(lines).toContain('left out: line 3, place: differs from line 2, which is the same tree')
    expect(lines).toContain('left out: line 2 is of the same tree as line 3')
    expect(lines.at(-1)).toBe('3 rows read, 1 tree written, 2 rows left out.')
  })

  test('takes back the tree that its command refuses, and only that one', async () => {
    await database.db.prisma.member.update({
      where: { groupId_id: { groupId: group.groupId, id: group.otherMember.memberId } },
      data: { leftOn: new Date('2026-01-01T00:00:00Z') },
    })
    const before = await database.db.prisma.tree.count({ where: { groupId: group.groupId } })
    const rows = ['keeper,variety', 'Otto Other,Egremont Russet', 'Mabel Member,Egremont Russet']
    expect((await run('trees', rows)).isDone).toBe(false)
    expect(await database.db.prisma.tree.count({ where: { groupId: group.groupId } })).toBe(before)
    const { lines } = await run('trees', rows, '--skip-bad')
    expect(lines[0]).toMatch(/^left out: line 2 was refused: The person who is to look after the tree/)
    expect(await database.db.prisma.tree.count({ where: { groupId: group.groupId } })).toBe(before + 1)
  })
})

describe('importing lots', () => {
  test('makes a cutting session of one person’s day and puts the sticks into the ledger', async () => {
    const { db } = database
    const { groupId } = group
    const code = issueCode((limit) => files % limit)
    const treeId = db.newId()
    await db.prisma.issuedCode.create({ data: { groupId, code, kind: 'tree' } })
    await db.prisma.tree.create({ data: { groupId, id: treeId, code, keeperId: group.member.memberId } })
    for (const mark of ['A', 'B'])
      await db.prisma.limb.create({ data: { groupId, id: db.newId(), treeId, mark } })
    await db.prisma.store.create({ data: { groupId, id: db.newId(), name: 'Group fridge', kind: 'fridge' } })
    const rows = [
      'tree,limb,cut by,cut on,sticks,kept in,packed in',
      `${formatCode(code)},A,Mabel Member,2026-01-20,12,group fridge,open bag`,
      `${code.toLowerCase()},b,Mabel Member,2026-01-20,7,Group Fridge,`,
    ]
    const { isDone, lines } = await run('lots', rows)
    expect(lines.at(-1)).toBe('2 rows read, 2 lots written, 0 rows left out.')
    expect(isDone).toBe(true)
    const sessions = await db.prisma.cuttingSession.findMany({
      where: { groupId, cutOn: new Date('2026-01-20T00:00:00Z') },
      include: { lots: { include: { holdings: { where: { account: 'store' } } } } },
    })
    expect(sessions).toHaveLength(1)
    const sticks = required(sessions[0], 'the session').lots.map(({ holdings }) => holdings[0]?.sticks)
    expect(sticks.sort()).toEqual([12, 7])
    expect(await verifyLedger(db, groupId)).toEqual([])
  })

  test('names trees, limbs, stores and people that are not there', async () => {
    const { lines } = await run('lots', [
      'tree,cut by,cut on,sticks,store',
      'ABC-DE0,Mabel Member,2026-01-20,12,Group fridge',
      ',Who Ever,,0,',
    ])
    expect(lines.find((line) => line.startsWith('line 2, tree:'))).toContain('0 is never part of a code')
    expect(lines).toContain('line 2, store: the group has no open store called “Group fridge”; add it first')
    expect(lines).toContain('line 3, tree: is empty')
    expect(lines).toContain('line 3, cut on: is empty')
    expect(lines).toContain('line 3, sticks: “0” is not a whole number from 1 to 2000')
  })
})

describe('the command', () => {
  test('lists the columns of every kind', async () => {
    const { isDone, lines } = await importCommand(['--help'], database.db)
    expect(isDone).toBe(true)
    expect(lines.filter((line) => line.startsWith('Columns of'))).toHaveLength(4)
    expect(lines.some((line) => line.trimStart().startsWith('variety*'))).toBe(true)
  })

  test('says what is wrong with its own words', async () => {
    const { slug } = group
    const file = fileOf([heading, good])
    const said = async (...args: readonly string[]) => (await importCommand(args, database.db)).lines[0]
    expect(await said('apples', file)).toContain('Say what to import: outcomes, members, trees, lots')
    expect(await said('outcomes')).toContain('Name one file')
    expect(await said('outcomes', file)).toContain('Name the group')
    expect(await said('outcomes', file, '--group', 'nowhere')).toContain('There is no group “nowhere”')
    expect(await said('outcomes', `${file}x`, '--group', slug)).toContain('cannot be read (ENOENT)')
    expect(await said('outcomes', file, '--group', slug, '--dates', 'ymd')).toContain(
      '--dates is dmy, mdy or iso',
    )
    expect(await said('outcomes', file, '--group', slug, '--as', 'x@example.org')).toContain(
      'signs in as x@example.org',
    )
    expect(await said('outcomes', file, '--group', slug, '--what')).toContain('--help')
  })

  test('runs in the name that it is told, if that person may', async () => {
    const { db } = database
    const mail = async (memberId: string) => {
      const member = await db.prisma.member.findUniqueOrThrow({
        where: { groupId_id: { groupId: group.groupId, id: memberId } },
        include: { login: true },
      })
      return required(member.login, 'a login').email
    }
    const rows = [heading, 'Egremont Russet,cleft,2026-03-20,6,,,,,']
    const refused = await run('outcomes', rows, '--as', await mail(group.helper.memberId))
    expect(refused.lines).toEqual(['Hetty Helper may not import: it takes an organiser.'])
    await run('outcomes', rows, '--as', await mail(group.organiser.memberId))
    expect((await batches())[0]?.recordedById).toBe(group.organiser.memberId)
  })
})
