import { beforeAll, describe, expect, test } from 'vitest'
import { checkOwnLedger, verifyGroups } from '#lib/ledger/verify-report.ts'
import { faultSentence } from '#lib/ledger/verify-words.ts'
import { claimOffering } from '#lib/swaps/claim-offering.ts'
import { handOver } from '#lib/swaps/hand-over.ts'
import { recordWalkUp } from '#lib/swaps/record-walk-up.ts'
import { undoWalkUp } from '#lib/swaps/undo-walk-up.ts'
import { makeGroup, type TestGroup } from '#tests/support/actors.ts'
import { testDatabase } from '#tests/support/database.ts'
import { verifyCommand } from '../../../scripts/verify.ts'
import { makeOffering, makeSwap, type TestOffering, valueIn } from '../swaps/swap-world.ts'
import { makeAttempt } from './graft-world.ts'
import { rawSqlAs } from './two-roles.ts'

// Every test here breaks the ledger of a group of its own on purpose.
const database = testDatabase({ ledger: 'is broken on purpose' })
const { owner } = rawSqlAs(database)

/** A group in which a little of everything happened, and all of it is true. */
interface World {
  readonly group: TestGroup
  readonly offering: TestOffering
  readonly other: TestOffering
  readonly standing: string
  readonly handed: string
  readonly otherClaim: string
  readonly attemptId: string
  readonly otherAttemptId: string
}

async function makeWorld(): Promise<World> {
  const { db } = database
  const group = await makeGroup(db)
  const swapId = await makeSwap(db, group)
  const offering = await makeOffering(db, group, swapId, { sticks: 20 })
  const other = await makeOffering(db, group, swapId, { sticks: 20 })
  const claim = async (actor: typeof group.member, of: TestOffering, shares: number) =>
    valueIn(await claimOffering(db, actor, { key: db.newId(), offeringId: of.offeringId, shares })).claimId
  const standing = await claim(group.member, offering, 2)
  const handed = await claim(group.otherMember, offering, 1)
  const otherClaim = await claim(group.member, other, 1)
  valueIn(await handOver(db, group.helper, { key: db.newId(), claimId: handed, sticks: 2 }))
  const walkUp = { key: db.newId(), offeringId: offering.offeringId, sticks: 3 }
  const { moveId } = valueIn(await recordWalkUp(db, group.helper, walkUp))
  valueIn(await undoWalkUp(db, group.helper, { key: db.newId(), moveId, reason: 'miscounted' }))
  const attemptId = await makeAttempt(db, group, offering)
  const otherAttemptId = await makeAttempt(db, group, other)
  return { group, offering, other, standing, handed, otherClaim, attemptId, otherAttemptId }
}

type Statement = readonly [sql: string, ...values: unknown[]]

/** Writes past every trigger and foreign key, as only the owner of the tables can. */
async function breakIn(...statements: readonly Statement[]): Promise<void> {
  await owner.query('begin')
  await owner.query('set local session_replication_role = replica')
  for (const [sql, ...values] of statements) await owner.query(sql, values)
  await owner.query('commit')
}

type Break = (world: World) => readonly Statement[]
const nowhere = '01890000-0000-7000-8000-000000000000'

/** Each kind of fault, a way to make it, and what the report calls the thing that is wrong. */
const cases: readonly (readonly [fault: string, about: RegExp, make: Break])[] = [
  [
    'holding differs from its moves',
    /^lot ...-...$/,
    ({ offering }) => [
      [`update holding set sticks = sticks + 1 where lot_id = $1 and account = 'store'`, offering.lotId],
    ],
  ],
  [
    'sticks of a lot do not add up',
    /^lot/,
    ({ offering }) => [
      [`update holding set sticks = sticks - 1 where lot_id = $1 and account = 'cut'`, offering.lotId],
    ],
  ],
  [
    'promised sticks differ from standing claims',
    /^lot/,
    ({ standing }) => [['update claim set sticks = sticks + 50 where id = $1', standing]],
  ],
  [
    'claimed shares differ from claims',
    /^lot .* in February swap$/,
    ({ offering }) => [
      ['update offering set shares_claimed = shares_claimed - 1 where id = $1', offering.offeringId],
    ],
  ],
  [
    'takings differ from claims',
    /^Mabel Member swap$/,
    ({ group }) => [
      [
        `update taking set shares = shares + 1 where scope = 'swap' and member_id = $1`,
        group.member.memberId,
      ],
    ],
  ],
  [
    'used sticks differ from the attempt',
    /^Mabel Member’s graft with wood of lot/,
    ({ attemptId }) => [['update attempt set sticks_used = 2 where id = $1', attemptId]],
  ],
  [
    'running balance differs from its moves',
    /^lot/,
    ({ offering }) => [
      [`update move set from_after = from_after + 1 where kind = 'walk_up' and lot_id = $1`, offering.lotId],
    ],
  ],
  [
    'correction is no mirror image',
    /^lot/,
    ({ offering }) => [
      [`update move set sticks = sticks + 1 where kind = 'reversal' and lot_id = $1`, offering.lotId],
    ],
  ],
  [
    'account has less than nothing',
    /^lot/,
    ({ offering }) => [
      ['alter table holding drop constraint if exists holding_is_never_negative'],
      [`update holding set sticks = -1 where lot_id = $1 and account = 'store'`, offering.lotId],
    ],
  ],
  [
    'more shares claimed than offered',
    /^lot .* in February swap$/,
    ({ standing }) => [['update claim set shares = 99 where id = $1', standing]],
  ],
  [
    'claim differs from its moves',
    /^Otto Other’s claim on lot/,
    ({ handed }) => [[`update claim set status = 'cancelled' where id = $1`, handed]],
  ],
  [
    'move belongs to a claim of another lot',
    /^lot/,
    ({ standing, otherClaim }) => [
      ['update move set claim_id = $2 where claim_id = $1', standing, otherClaim],
    ],
  ],
  [
    'claims are in no taking',
    /^Mabel Member ‘Variety/,
    ({ group, offering }) => [
      ['delete from taking where member_id = $1 and scope = $2', group.member.memberId, offering.varietyId],
    ],
  ],
  [
    'limb comes from its own wood',
    /^limb A of tree ...-...$/,
    ({ offering, attemptId }) => [
      ['update limb set from_attempt_id = $2 where id = $1', offering.limbId, attemptId],
    ],
  ],
  [
    'limb comes from a graft that is not there',
    /^limb A of tree/,
    ({ offering }) => [['update limb set from_attempt_id = $2 where id = $1', offering.limbId, nowhere]],
  ],
  [
    'limb is on a tree that is not there',
    /^limb A$/,
    ({ offering }) => [['update limb set tree_id = $2 where id = $1', offering.limbId, nowhere]],
  ],
  [
    'graft used wood that is not there',
    /^Mabel Member’s graft$/,
    ({ attemptId }) => [['update attempt set lot_id = $2 where id = $1', attemptId, nowhere]],
  ],
  [
    'lot was cut from a limb that is not there',
    /^lot/,
    ({ offering }) => [['update lot set limb_id = $2 where id = $1', offering.lotId, nowhere]],
  ],
  [
    'lot was cut in a session that is not there',
    /^lot/,
    ({ offering }) => [['update lot set cut_on = cut_on + 1 where id = $1', offering.lotId]],
  ],
  [
    'sticks of a lot that is not there',
    /^[0-9a-f-]{36}$/,
    ({ offering }) => [['delete from lot where id = $1', offering.lotId]],
  ],
  [
    'offering of a lot that is not there',
    /^a lot that is not there in February swap$/,
    ({ offering }) => [['delete from lot where id = $1', offering.lotId]],
  ],
  [
    'reserved shares differ from offers',
    /./,
    ({ offering }) => [['update offering set shares_reserved = 1 where id = $1', offering.offeringId]],
  ],
  [
    'accepted offer differs from its claim',
    /./,
    ({ group, otherClaim }) => [
      [
        `insert into waiting (group_id, id, swap_id, offering_id, lot_id, member_id, shares, recorded_by_id, asked_at,
            status, offered_shares, offered_at, expires_at, settled_at, claim_id)
          select group_id, $2, swap_id, offering_id, lot_id, $3, 1, $3, now(), 'accepted', 1, now(),
            now() + interval '1 day', now(), id from claim where id = $1`,
        otherClaim,
        database.db.newId(),
        group.otherMember.memberId,
      ],
    ],
  ],
  [
    'somebody waits for a swap that is over',
    /./,
    ({ group, offering }) => [
      [
        `insert into waiting (group_id, id, swap_id, offering_id, lot_id, member_id, shares, recorded_by_id, asked_at)
          select group_id, $2, swap_id, id, lot_id, $3, 1, $3, now() from offering where id = $1`,
        offering.offeringId,
        database.db.newId(),
        group.otherMember.memberId,
      ],
      ['update offering set withdrawn_at = now() where id = $1', offering.offeringId],
    ],
  ],
  [
    'sticks split off differ from the new lots',
    /^lot/,
    ({ group, offering }) => [
      [
        `insert into move (group_id, id, lot_id, kind, from_account, to_account, sticks, from_after, to_after, happened_at,
            recorded_by_id)
          values ($1, $2, $3, 'split', 'store', 'cut', 1, 0, 0, now(), $4)`,
        group.groupId,
        database.db.newId(),
        offering.lotId,
        group.member.memberId,
      ],
    ],
  ],
  [
    'claim on nothing that is offered',
    /^Mabel Member’s claim on lot/,
    ({ offering }) => [['delete from offering where id = $1', offering.offeringId]],
  ],
  [
    'claim of nobody',
    /^somebody’s claim on lot/,
    ({ group }) => [['delete from member where id = $1', group.otherMember.memberId]],
  ],
]

describe('the ledger is counted again', () => {
  let world: World
  beforeAll(async () => {
    world = await makeWorld()
  })

  test('and is true whatever the commands did', async () => {
    const [report] = await verifyGroups(database.db, world.group.groupId)
    expect(report).toMatchObject({ slug: world.group.slug, counts: { lots: 2, claims: 3 }, faults: [] })
    const answer = await verifyCommand(['--group', world.group.slug], database.db)
    expect(answer.isClean).toBe(true)
    expect(answer.lines).toEqual([expect.stringContaining('2 lots, 10 moves, 3 claims: everything adds up')])
  })

  test('for the organiser on a page, and for nobody else', async () => {
    expect(await checkOwnLedger(database.db, world.group.organiser)).toMatchObject({ faults: [] })
    expect(await checkOwnLedger(database.db, world.group.steward)).toBeNull()
    expect(await checkOwnLedger(database.db, world.group.member)).toBeNull()
  })

  test('by a command that knows its options', async () => {
    const { db } = database
    expect(await verifyCommand(['--help'], db)).toMatchObject({ isClean: true })
    expect(await verifyCommand(['--group', 'nowhere'], db)).toMatchObject({
      isClean: false,
      lines: [expect.stringContaining('There is no group “nowhere”')],
    })
    expect((await verifyCommand(['--everything'], db)).isClean).toBe(false)
  })
})

describe('what is wrong is named', () => {
  test.each(cases)('%s', async (fault, about, make) => {
    const world = await makeWorld()
    await breakIn(...make(world))
    const [report] = await verifyGroups(database.db, world.group.groupId)
    const sentence = faultSentence(fault, '')
    const named = report?.faults.filter((found) => found.sentence.startsWith(sentence)) ?? []
    expect(named.map((found) => found.about)).toEqual(expect.arrayContaining([expect.stringMatching(about)]))
    const { isClean, lines } = await verifyCommand(['--group', world.group.slug], database.db)
    expect(isClean).toBe(false)
    expect(lines.some((line) => line.includes(sentence))).toBe(true)
  })

  test('a circle by way of several grafts, at each of its limbs', async () => {
    const { group, offering, other, attemptId, otherAttemptId } = await makeWorld()
    const grew = 'update limb set from_attempt_id = $2 where id = $1'
    await breakIn([grew, other.limbId, attemptId], [grew, offering.limbId, otherAttemptId])
    const [report] = await verifyGroups(database.db, group.groupId)
    expect(report?.faults.map((fault) => fault.about).sort()).toEqual(
      [offering, other]
        .map(({ treeCode }) => `limb A of tree ${treeCode.slice(0, 3)}-${treeCode.slice(3)}`)
        .sort(),
    )
  })

  test('with the code of the lot, and only in its own group', async () => {
    const { group, offering } = await makeWorld()
    const untouched = await makeWorld()
    await breakIn([
      `update holding set sticks = 3 where lot_id = $1 and account = 'promised'`,
      offering.lotId,
    ])
    const [report] = await verifyGroups(database.db, group.groupId)
    expect(report?.faults.length).toBeGreaterThan(0)
    expect(report?.faults.every((fault) => fault.lotCode === offering.code)).toBe(true)
    expect(await verifyGroups(database.db, untouched.group.groupId)).toMatchObject([{ faults: [] }])
    const everywhere = await verifyCommand([], database.db)
    expect(everywhere.isClean).toBe(false)
    expect(everywhere.lines).toContainEqual(expect.stringContaining(`(${untouched.group.slug}): 2 lots`))
  })

  test('in words, each kind of it, and each is tried above', async () => {
    const views = await owner.query<{ definition: string }>(
      `select pg_get_viewdef(to_regclass(name)) as definition
        from unnest(array['ledger_fault', 'entry_fault', 'lineage_fault']) as name`,
    )
    const kinds = views.flatMap(({ definition }) =>
      [...definition.matchAll(/'([a-z]+(?: [a-z]+){2,})'::text/g)].map(([, kind]) => kind ?? ''),
    )
    expect(kinds.length).toBeGreaterThan(20)
    expect([...new Set(kinds)].sort()).toEqual(cases.map(([fault]) => fault).sort())
    for (const kind of kinds) expect(faultSentence(kind, '')).not.toBe(kind)
  })
})
