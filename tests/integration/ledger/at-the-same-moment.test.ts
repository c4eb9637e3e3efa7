import { Client } from 'pg'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { verifyLedger } from '#lib/ledger/verify-ledger.ts'
import { claimOffering } from '#lib/swaps/claim-offering.ts'
import { finishSwap } from '#lib/swaps/finish-swap.ts'
import { handOver } from '#lib/swaps/hand-over.ts'
import { recordWalkUp } from '#lib/swaps/record-walk-up.ts'
import { makeGroup, makeLot, type TestGroup } from '#tests/support/actors.ts'
import { testDatabase } from '#tests/support/database.ts'
import { kindOf, makeOffering, makeSwap, valueIn } from '../swaps/swap-world.ts'
import { makeAttempt, makeCheck } from './graft-world.ts'

const database = testDatabase()
let group: TestGroup
let first: Client
let second: Client

beforeAll(async () => {
  group = await makeGroup(database.db)
  first = new Client({ connectionString: database.url })
  second = new Client({ connectionString: database.url })
  await Promise.all([first.connect(), second.connect()])
})
afterAll(() => Promise.all([first.end(), second.end()]))

/** Waits until a session of this database waits for a lock that `first` holds. */
async function untilSomebodyWaits(): Promise<void> {
  const deadline = Date.now() + 10_000
  while (Date.now() < deadline) {
    const { rows } = await second.query<{ waiting: boolean }>(
      `select exists (select from pg_stat_activity
        where datname = current_database() and wait_event_type = 'Lock') as waiting`,
    )
    if (rows[0]?.waiting) return
    await new Promise((resolve) => setTimeout(resolve, 20))
  }
  throw new Error('Nothing waited')
}

/** Does `what` in a transaction, lets `meanwhile` run into it, commits, and says what became of `meanwhile`. */
async function meeting<Answer>(
  what: readonly [sql: string, values: readonly unknown[]],
  meanwhile: () => Promise<Answer>,
): Promise<Answer> {
  await first.query('begin')
  await first.query(what[0], [...what[1]])
  const answer = meanwhile()
  await untilSomebodyWaits()
  await first.query('commit')
  return answer
}

const holdOn = (column: 'lot_id' | 'limb_id', id: string) =>
  [
    `insert into health_hold (group_id, id, ${column}, reason, placed_by_id, placed_at) values ($1, $2, $3, 'canker', $4, now())`,
    [group.groupId, database.db.newId(), id, group.steward.memberId],
  ] as const

const claimOf = (offeringId: string, actor = group.member) =>
  claimOffering(database.db, actor, {
    key: database.db.newId(),
    offeringId,
    memberId: undefined,
    shares: 1,
    purpose: undefined,
  })

describe('a hold that is placed at the same moment wins', () => {
  test.each(['lot_id', 'limb_id'] as const)('against a claim (%s)', async (column) => {
    const offering = await makeOffering(database.db, group, await makeSwap(database.db, group))
    const id = column === 'lot_id' ? offering.lotId : offering.limbId
    const claimed = await meeting(holdOn(column, id), () => claimOf(offering.offeringId))
    expect(kindOf(claimed)).toBe('held')
  })

  test.each(['lot_id', 'limb_id'] as const)('against a hand-over (%s)', async (column) => {
    const { db } = database
    const offering = await makeOffering(db, group, await makeSwap(db, group))
    const { claimId } = valueIn(await claimOf(offering.offeringId))
    const id = column === 'lot_id' ? offering.lotId : offering.limbId
    const handed = await meeting(holdOn(column, id), () =>
      handOver(db, group.helper, { key: db.newId(), claimId, sticks: 2 }),
    )
    expect(kindOf(handed)).toBe('held')
  })

  test.each(['lot_id', 'limb_id'] as const)('against somebody at the table (%s)', async (column) => {
    const { db } = database
    const lot = await makeLot(db, group)
    const id = column === 'lot_id' ? lot.lotId : lot.limbId
    const taken = await meeting(holdOn(column, id), () =>
      recordWalkUp(db, group.helper, {
        key: db.newId(),
        offeringId: undefined,
        lotId: lot.lotId,
        sticks: 1,
      }),
    )
    expect(kindOf(taken)).toBe('held')
  })
})

describe('the end of a swap', () => {
  test('leaves no promise behind that was made at the same moment', async () => {
    const { db } = database
    const swapId = await makeSwap(db, group)
    const offering = await makeOffering(db, group, swapId)
    // A claim that has looked at the swap and waits for its lot.
    await first.query('begin')
    await first.query('select from offering where id = $1 for update', [offering.offeringId])
    const claim = claimOf(offering.offeringId)
    await untilSomebodyWaits()
    const finishing = finishSwap(db, group.organiser, { swapId, giveBackRest: true })
    await new Promise((resolve) => setTimeout(resolve, 300))
    await first.query('commit')
    await Promise.all([claim, finishing])
    const standing = await db.prisma.claim.count({ where: { swapId, status: 'promised' } })
    const swap = await db.prisma.swap.findUniqueOrThrow({
      where: { groupId_id: { groupId: group.groupId, id: swapId } },
    })
    expect({ status: swap.status, standing }).toEqual({ status: 'finished', standing: 0 })
    expect(await verifyLedger(db, group.groupId)).toEqual([])
  })
})

describe('two people at once', () => {
  test('do not explain more failures than there are', async () => {
    const { db } = database
    const attemptId = await makeAttempt(db, group, await makeLot(db, group), { pieces: 4 })
    const checkId = await makeCheck(db, group, attemptId, { pieces: 4, alive: 2, dead: 2 })
    const cause = (name: string) =>
      [
        'insert into check_cause (group_id, check_id, cause, pieces) values ($1, $2, $3, 2)',
        [group.groupId, checkId, name],
      ] as const
    await first.query('begin')
    await first.query(cause('mould')[0], [...cause('mould')[1]])
    const other = second
      .query(cause('dried_out')[0], [...cause('dried_out')[1]])
      .then(() => 'accepted')
      .catch((error: { code: string }) => error.code)
    await new Promise((resolve) => setTimeout(resolve, 300))
    await first.query('commit')
    expect(await other).toBe('TW023')
  })

  test('do not make two limbs each other’s parents', async () => {
    const { db } = database
    const [a, b] = [await makeLot(db, group), await makeLot(db, group)]
    const [fromA, fromB] = [await makeAttempt(db, group, a), await makeAttempt(db, group, b)]
    const grew = 'update limb set from_attempt_id = $2 where id = $1'
    await first.query('begin')
    await first.query(grew, [b.limbId, fromA])
    const other = second
      .query(grew, [a.limbId, fromB])
      .then(() => 'accepted')
      .catch((error: { code: string }) => error.code)
    await new Promise((resolve) => setTimeout(resolve, 300))
    await first.query('commit')
    expect(await other).toBe('TW020')
  })
})
