import { beforeAll, describe, expect, test } from 'vitest'
import type { Actor, Role } from '#lib/access/actor.ts'
import { addDays, civilDateIn, civilDateOf } from '#lib/kernel/civil-date.ts'
import { verifyLedger } from '#lib/ledger/verify-ledger.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { claimOffering } from '#lib/swaps/claim-offering.ts'
import { offerLots } from '#lib/swaps/offer-lots.ts'
import { buildDemoWorld } from '#seed/demo/build-demo-world.ts'
import { timeZone } from '#seed/demo/calendar.ts'
import { demoPeople } from '#seed/demo/people-summary.ts'
import { type TestDatabase, testDatabase } from '#tests/support/database.ts'

const buildMs = 300_000

/** The database as it is used in the demo's present. */
const asOf = (db: Database, now: Date): Database => ({ ...db, now: () => now })

async function actorNamed(db: Database, displayName: string): Promise<Actor> {
  const member = await db.prisma.member.findFirstOrThrow({
    where: { displayName, group: { slug: 'marrow-lane' } },
  })
  return { groupId: member.groupId, memberId: member.id, role: member.role as Role }
}

async function count(db: Database, sql: string): Promise<number> {
  const { rows } = await db.pool.query<{ count: number }>(`select count(*)::int as count from ${sql}`)
  return rows[0]?.count ?? -1
}

/** Numbers that say what a world holds, without its ids and codes. */
async function tallies(db: Database): Promise<unknown> {
  const lists = [
    'select kind, count(*)::int, sum(sticks)::int from move group by kind order by kind',
    'select method, treatment, stock, count(*)::int, sum(pieces)::int from attempt group by 1, 2, 3 order by 1, 2, 3',
    'select checked_on, count(*)::int, sum(alive)::int, sum(dead)::int, sum(unknown)::int from outcome_check group by 1 order by 1',
    'select cause, count(*)::int, sum(pieces)::int from check_cause group by cause order by cause',
    `select v.name, count(*)::int as lots, sum(c.shares)::int as shares from lot l
       join limb b on b.id = l.limb_id left join variety v on v.id = b.variety_id
       left join claim c on c.lot_id = l.id group by v.name order by v.name`,
    'select m.display_name, count(t.id)::int from member m left join tree t on t.keeper_id = m.id group by 1 order by 1',
  ]
  const answers = []
  for (const sql of lists) answers.push((await db.pool.query(sql)).rows)
  return answers
}

const lineSql = `(
  with recursive line (limb_id, depth) as (
    select id, 1 from limb where from_attempt_id is null
    union all
    select b.id, line.depth + 1
      from line
      join attempt a on a.from_limb_id = line.limb_id
        or exists (select 1 from lot l where l.id = a.lot_id and l.limb_id = line.limb_id)
      join limb b on b.from_attempt_id = a.id)
  select limb_id from line where depth >= 3) as deep`

interface DemoTime {
  readonly name: string
  readonly now: Date
  readonly database: TestDatabase
}

const winter: DemoTime = {
  name: 'in the middle of winter',
  now: new Date('2027-02-04T09:12:00Z'),
  database: testDatabase(),
}
const summer: DemoTime = {
  name: 'at midsummer',
  now: new Date('2027-06-21T20:40:00Z'),
  database: testDatabase(),
}
const winterAgain = testDatabase()
let winterTallies: unknown

beforeAll(async () => {
  await buildDemoWorld(winter.database.db, { now: winter.now, seed: 7 })
  winterTallies = await tallies(winter.database.db)
}, buildMs)
beforeAll(() => buildDemoWorld(summer.database.db, { now: summer.now }), buildMs)

describe.each([winter, summer])('the demo world $name', ({ now, database }) => {
  test('keeps the ledger without a fault', async () => {
    expect(await verifyLedger(database.db)).toEqual([])
  })

  test('has about sixty people, two of them without an account', async () => {
    const { db } = database
    const people = await db.prisma.member.findMany({
      where: { group: { slug: 'marrow-lane' }, leftOn: null },
    })
    expect(people.length).toBeGreaterThanOrEqual(58)
    expect(people.length).toBeLessThanOrEqual(62)
    expect(people.filter(({ loginId }) => loginId === null).map(({ displayName }) => displayName)).toEqual(
      expect.arrayContaining(['Alder Wickens', 'Hester Copley']),
    )
    expect(people.filter(({ loginId }) => loginId === null)).toHaveLength(2)
    expect(await count(db, 'member where login_id is null')).toBe(2)
    const roles = people.map(({ role }) => role).sort()
    expect(roles.filter((role) => role !== 'member')).toEqual([
      'helper',
      'helper',
      'helper',
      'organiser',
      'steward',
    ])
  })

  test('has the promised numbers of trees, varieties, lots and grafts', async () => {
    const { db } = database
    const numbers = {
      trees: await count(db, 'tree'),
      varieties: await count(db, 'variety'),
      lots: await count(db, 'lot'),
      attempts: await count(db, 'attempt'),
      checks: await count(db, 'outcome_check'),
      genera: await count(
        db,
        `(select distinct t.genus from lot l join limb b on b.id = l.limb_id
          join variety v on v.id = b.variety_id join taxon t on t.key = v.taxon_key) as genera`,
      ),
    }
    expect(numbers.trees).toBeGreaterThanOrEqual(108)
    expect(numbers.trees).toBeLessThanOrEqual(132)
    expect(numbers.varieties).toBeGreaterThanOrEqual(45)
    expect(numbers.lots).toBeGreaterThanOrEqual(240)
    expect(numbers.lots).toBeLessThanOrEqual(260)
    expect(numbers.attempts).toBeGreaterThanOrEqual(200)
    expect(numbers.checks).toBeGreaterThanOrEqual(300)
    expect(numbers.genera).toBeGreaterThanOrEqual(8)
  })

  test('has a tree with ten limbs, and lines of three grafts', async () => {
    const { db } = database
    const limbs = await db.prisma.limb.groupBy({ by: ['treeId'], _count: true })
    expect(Math.max(...limbs.map(({ _count }) => _count))).toBe(10)
    expect(await count(db, lineSql)).toBeGreaterThanOrEqual(3)
  })

  test('has two finished swaps, and one that is open for claims now', async () => {
    const { db } = database
    const swaps = await db.prisma.swap.findMany({ orderBy: { heldOn: 'asc' } })
    expect(swaps.map(({ status }) => status)).toEqual(['finished', 'finished', 'open'])
    const open = swaps[2]
    expect(open && open.claimsOpenAt <= now && now < open.claimsCloseAt).toBe(true)
    const offers = await db.prisma.offering.findMany({ where: { swapId: open?.id ?? '' } })
    const left = offers.map(({ shares, sharesClaimed }) => shares - sharesClaimed)
    expect(offers.length).toBeGreaterThanOrEqual(25)
    expect(left.filter((shares) => shares === 0).length).toBeGreaterThanOrEqual(3)
    expect(left.filter((shares) => shares === 1).length).toBeGreaterThanOrEqual(1)
    expect(left.filter((shares) => shares > 1).length).toBeGreaterThanOrEqual(8)
    const claimants = await db.prisma.claim.groupBy({ by: ['memberId'], where: { swapId: open?.id ?? '' } })
    expect(claimants.length).toBeGreaterThanOrEqual(10)
  })

  test('lets the member who is shown at sign-in claim', async () => {
    const db = asOf(database.db, now)
    const wren = await actorNamed(db, 'Wren Halloway')
    const offers = await db.prisma.offering.findMany({
      where: { swap: { status: 'open' }, lot: { limb: { tree: { keeperId: { not: wren.memberId } } } } },
      include: { claims: { where: { memberId: wren.memberId } } },
    })
    const free = offers.find(
      ({ shares, sharesClaimed, claims }) => shares > sharesClaimed && claims.length === 0,
    )
    const claimed = await claimOffering(db, wren, {
      key: db.newId(),
      offeringId: free?.id ?? '',
      shares: 1,
    })
    expect(claimed).toMatchObject({ ok: true })
    expect(await verifyLedger(db)).toEqual([])
  })

  test('refuses to offer what may be protected, what is not shared here, and what has no name', async () => {
    const db = asOf(database.db, now)
    const helper = await actorNamed(db, 'Joss Pemberley')
    const swap = await db.prisma.swap.findFirstOrThrow({ where: { status: 'open' } })
    const refusalFor = async (limb: object) => {
      const lot = await db.prisma.lot.findFirst({
        where: { limb, offerings: { none: {} } },
        orderBy: { cutOn: 'desc' },
      })
      // Summer has no wood of vines.
      if (!lot) return null
      const answer = await offerLots(db, helper, {
        key: db.newId(),
        swapId: swap.id,
        offers: [{ lotId: lot.id, sticksPerShare: 1, shares: 1 }],
      })
      return answer.ok ? 'offered' : answer.refusal
    }
    expect(await refusalFor({ variety: { name: 'Tolland Ember' } })).toMatchObject({
      kind: 'lots-unfit',
      lots: [{ refusal: { kind: 'protected', protection: 'pending' } }],
    })
    expect(await refusalFor({ variety: { name: 'Black Hamburgh' } })).toMatchObject({
      lots: [{ refusal: { kind: 'not-shared-here', genus: 'Vitis' } }],
    })
    expect(await refusalFor({ varietyId: null })).toMatchObject({ lots: [{ refusal: { kind: 'held' } }] })
  })

  test('has one open hold and one that was released', async () => {
    const holds = await database.db.prisma.healthHold.findMany()
    expect(holds.filter(({ releasedAt }) => releasedAt === null)).toHaveLength(1)
    expect(holds.filter(({ releasedAt }) => releasedAt !== null)).toHaveLength(1)
  })

  test('cuts budwood from June to September and dormant wood in the rest of the year', async () => {
    const lots = await database.db.prisma.lot.findMany()
    for (const lot of lots) {
      const month = lot.cutOn.getUTCMonth() + 1
      expect([lot.kind === 'budwood', month]).toEqual([month >= 6 && month <= 9, month])
    }
  })

  test('records nothing later than its present', async () => {
    const { db } = database
    const today = civilDateIn(timeZone, now)
    const yesterday = addDays(today, -1)
    const { rows } = await db.pool.query<{ last: Date }>(
      `select max(at) as last from (
         select happened_at as at from move union all select placed_at from health_hold
         union all select began_at from stint union all select at from reading
         union all select made_at from claim union all select offered_at from offering) as all_instants`,
    )
    expect(rows[0]?.last.getTime()).toBeLessThanOrEqual(now.getTime())
    const lastCut = await db.prisma.lot.aggregate({ _max: { cutOn: true } })
    const lastCheck = await db.prisma.outcomeCheck.aggregate({ _max: { checkedOn: true } })
    expect(civilDateOf(lastCut._max.cutOn ?? now) <= yesterday).toBe(true)
    expect(civilDateOf(lastCheck._max.checkedOn ?? now) <= yesterday).toBe(true)
  })

  test('has looks with causes, unknown pieces and corrections, batches nobody looked at, and one withdrawn', async () => {
    const { db } = database
    expect(await count(db, 'check_cause')).toBeGreaterThanOrEqual(50)
    expect(await count(db, 'outcome_check where unknown > 0')).toBeGreaterThanOrEqual(5)
    expect(await count(db, 'outcome_check where supersedes_id is not null')).toBeGreaterThanOrEqual(2)
    expect(
      await count(
        db,
        'attempt a where not exists (select 1 from outcome_check c where c.attempt_id = a.id) and withdrawn_at is null',
      ),
    ).toBeGreaterThanOrEqual(5)
    expect(await count(db, 'attempt where withdrawn_at is not null')).toBe(1)
  })

  test('has no-shows, short hand-overs, visitors, and claims given back', async () => {
    const { db } = database
    expect(await count(db, `move where kind = 'walk_up'`)).toBeGreaterThanOrEqual(10)
    expect(
      await count(db, `move where kind = 'release' and reason = 'not handed over'`),
    ).toBeGreaterThanOrEqual(3)
    expect(await count(db, `move where kind = 'release' and reason = 'Did not come'`)).toBeGreaterThanOrEqual(
      1,
    )
    expect(await count(db, `claim where status = 'cancelled'`)).toBeGreaterThanOrEqual(15)
    expect(await count(db, `move where kind = 'reversal'`)).toBeGreaterThanOrEqual(3)
  })

  test('offers somebody of each kind at sign-in, one of them in two groups', async () => {
    const people = await demoPeople(database.db)
    expect(people.map(({ displayName, role }) => `${displayName}, ${role}`)).toEqual([
      'Nell Fairweather, organiser',
      'Greta Lindqvist, steward',
      'Joss Pemberley, helper',
      'Wren Halloway, member',
      'Saskia Molenaar, member',
      'Idris Quayle, member',
    ])
    const idris = people.find(({ displayName }) => displayName === 'Idris Quayle')
    expect(await count(database.db, `member where login_id = '${idris?.loginId}'`)).toBe(2)
    const login = await database.db.prisma.login.findFirst({ where: { email: idris?.email ?? '' } })
    expect(login?.id).toBe(idris?.loginId)
  })

  test('leaves no mail behind and does not call the installation a demo', async () => {
    expect(await count(database.db, 'outbox_mail')).toBe(0)
    expect(await count(database.db, 'installation where is_demo')).toBe(0)
  })
})

describe('two demo worlds of the same seed and present', () => {
  beforeAll(() => buildDemoWorld(winterAgain.db, { now: winter.now, seed: 7 }), buildMs)

  test('hold the same', async () => {
    expect(await tallies(winterAgain.db)).toEqual(winterTallies)
  })
})
