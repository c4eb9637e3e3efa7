import { Client } from 'pg'
import { beforeAll, describe, expect, test } from 'vitest'
import { checkIn, undoCheckIn } from '#lib/swaps/check-in.ts'
import { claimOffering } from '#lib/swaps/claim-offering.ts'
import { dayPapers } from '#lib/swaps/day-papers.ts'
import { finishSwap } from '#lib/swaps/finish-swap.ts'
import { handOverAll } from '#lib/swaps/hand-over-all.ts'
import { ClaimOfferingInput } from '#lib/swaps/input.ts'
import { lotsToLabel } from '#lib/swaps/lots-to-label.ts'
import { dayVersion, personAtDoor, runDay } from '#lib/swaps/run-day.ts'
import { makeGroup, type TestGroup } from '#tests/support/actors.ts'
import { testDatabase } from '#tests/support/database.ts'
import { holdingsOf, kindOf, makeOffering, makeSwap, placeTestHold, valueIn } from './swap-world.ts'

const database = testDatabase()
let group: TestGroup
let others: TestGroup

beforeAll(async () => {
  group = await makeGroup(database.db)
  others = await makeGroup(database.db)
})

const claimed = async (swapId: string, shares = 2) => {
  const { db } = database
  const lot = await makeOffering(db, group, swapId, { shares: 5, sticksPerShare: 2 })
  const input = ClaimOfferingInput.parse({ key: db.newId(), offeringId: lot.offeringId, shares })
  return { ...lot, ...valueIn(await claimOffering(db, group.member, input)) }
}

const mabel = (swapId: string) => ({ swapId, memberId: group.member.memberId })

describe('checking somebody in', () => {
  test('is one entry, however many helpers tick the name at once', async () => {
    const { db } = database
    const swapId = await makeSwap(db, group)
    const answers = await Promise.all(
      [group.helper, group.steward, group.organiser].map((actor) => checkIn(db, actor, mabel(swapId))),
    )
    expect(answers.filter((answer) => valueIn(answer).isNew)).toHaveLength(1)
    expect(await db.prisma.swapPresence.count({ where: { swapId } })).toBe(1)
    expect((await personAtDoor(db, group.helper, swapId, group.member.memberId))?.cameAt).toBeInstanceOf(Date)
  })

  test('can be taken back and done again, and the entries stay', async () => {
    const { db } = database
    const swapId = await makeSwap(db, group)
    valueIn(await checkIn(db, group.helper, mabel(swapId)))
    expect(valueIn(await undoCheckIn(db, group.steward, mabel(swapId))).isNew).toBe(true)
    expect(valueIn(await undoCheckIn(db, group.steward, mabel(swapId))).isNew).toBe(false)
    expect((await runDay(db, group.helper, swapId))?.counts.came).toBe(0)
    expect(valueIn(await checkIn(db, group.helper, mabel(swapId))).isNew).toBe(true)
    expect(await db.prisma.swapPresence.count({ where: { swapId } })).toBe(2)
  })

  test('is for the people at the door, of people and swaps of their own group, while the swap lasts', async () => {
    const { db } = database
    const swapId = await makeSwap(db, group)
    const elsewhere = await makeSwap(db, others)
    expect(kindOf(await checkIn(db, group.member, mabel(swapId)))).toBe('not-allowed')
    expect(kindOf(await undoCheckIn(db, group.member, mabel(swapId)))).toBe('not-allowed')
    expect(kindOf(await checkIn(db, others.helper, mabel(swapId)))).toBe('not-found')
    expect(kindOf(await checkIn(db, group.helper, mabel(elsewhere)))).toBe('not-found')
    const stranger = { swapId, memberId: others.member.memberId }
    expect(kindOf(await checkIn(db, group.helper, stranger))).toBe('not-found')
    valueIn(await finishSwap(db, group.organiser, { swapId, giveBackRest: true }))
    expect(kindOf(await checkIn(db, group.helper, mabel(swapId)))).toBe('swap-finished')
  })
})

describe('handing over all at once', () => {
  test('gives everything that waits, and what is on hold stays', async () => {
    const { db } = database
    const swapId = await makeSwap(db, group)
    const [first, second, held] = [await claimed(swapId), await claimed(swapId, 1), await claimed(swapId, 1)]
    await placeTestHold(db, group, { lotId: held.lotId })
    const input = { key: db.newId(), ...mabel(swapId) }
    expect(valueIn(await handOverAll(db, group.helper, input))).toEqual({ claims: 2, sticks: 6, held: 1 })
    const account = `member:${group.member.memberId}`
    expect(await holdingsOf(db, first.lotId)).toMatchObject({ [account]: 4 })
    expect(await holdingsOf(db, second.lotId)).toMatchObject({ [account]: 2 })
    expect(await holdingsOf(db, held.lotId)).toMatchObject({ promised: 2 })
  })

  test('happens once, with the same button or by two helpers at once', async () => {
    const { db } = database
    const swapId = await makeSwap(db, group)
    const { lotId } = await claimed(swapId)
    await claimed(swapId, 1)
    const input = { key: db.newId(), ...mabel(swapId) }
    const answers = await Promise.all([
      handOverAll(db, group.helper, input),
      handOverAll(db, group.helper, input),
      handOverAll(db, group.steward, { ...input, key: db.newId() }),
    ])
    expect(answers.map(kindOf).every((kind) => kind === 'accepted' || kind === 'wrong-state')).toBe(true)
    expect(await holdingsOf(db, lotId)).toMatchObject({ [`member:${group.member.memberId}`]: 4 })
    expect(await db.prisma.move.count({ where: { lotId, kind: 'hand_over' } })).toBe(1)
  })

  test('is not for members, and finds nothing from another group', async () => {
    const { db } = database
    const swapId = await makeSwap(db, group)
    await claimed(swapId)
    const input = { key: db.newId(), ...mabel(swapId) }
    expect(kindOf(await handOverAll(db, group.member, input))).toBe('not-allowed')
    expect(valueIn(await handOverAll(db, others.helper, input))).toEqual({ claims: 0, sticks: 0, held: 0 })
  })
})

describe('the day on one screen', () => {
  test('counts who is here and what waits, and finds by name and by code', async () => {
    const { db } = database
    const swapId = await makeSwap(db, group)
    const { code } = await claimed(swapId)
    valueIn(await checkIn(db, group.helper, { swapId, memberId: group.otherMember.memberId }))
    const day = await runDay(db, group.helper, swapId)
    expect(day?.counts).toEqual({ came: 1, waiting: 1, sticksPromised: 4, sticksHandedOver: 0 })
    expect(day?.people.map(({ name }) => name)).toEqual(['Mabel Member', 'Otto Other'])
    const found = await runDay(db, group.helper, swapId, 'stän')
    expect(found?.people.map(({ name }) => name)).toEqual(['Stan Steward'])
    // Codes of test lots carry no true check character, so none of them reads as a code.
    expect((await runDay(db, group.helper, swapId, code))?.people).toEqual([])
  })

  test('has another mark after each thing that is done, and none for members or another group', async () => {
    const { db } = database
    const swapId = await makeSwap(db, group)
    await claimed(swapId)
    const marks = [await dayVersion(db, group.helper, swapId)]
    const look = async () => marks.push(await dayVersion(db, group.helper, swapId))
    valueIn(await checkIn(db, group.helper, mabel(swapId)))
    await look()
    valueIn(await undoCheckIn(db, group.helper, mabel(swapId)))
    await look()
    valueIn(await handOverAll(db, group.helper, { key: db.newId(), ...mabel(swapId) }))
    await look()
    expect(new Set(marks).size).toBe(4)
    expect(await dayVersion(db, group.helper, swapId)).toBe(marks.at(-1))
    expect(await dayVersion(db, group.member, swapId)).toBeNull()
    expect(await runDay(db, group.member, swapId)).toBeNull()
    expect(await runDay(db, others.helper, swapId)).toBeNull()
    expect(await personAtDoor(db, others.helper, swapId, group.member.memberId)).toBeNull()
  })

  test('and its papers take at most eight statements, however many claims there are', async () => {
    const { db } = database
    const swapId = await makeSwap(db, group, { capPerMember: 100 })
    for (let i = 0; i < 6; i++) await claimed(swapId, 1)
    const count = async (work: () => Promise<unknown>) => {
      let statements = 0
      const another = () => {
        statements++
      }
      db.pool.on('acquire', another)
      await work()
      db.pool.off('acquire', another)
      return statements
    }
    const day = await count(() => runDay(db, group.helper, swapId))
    const papers = await count(() => dayPapers(db, group.helper, swapId))
    expect(day).toBeGreaterThan(0)
    expect(day).toBeLessThanOrEqual(8)
    expect(papers).toBeGreaterThan(0)
    expect(papers).toBeLessThanOrEqual(8)
  })
})

test('papers and labels of a swap are for the people at the door of its group', async () => {
  const { db } = database
  const swapId = await makeSwap(db, group)
  const { code } = await claimed(swapId)
  const papers = await dayPapers(db, group.helper, swapId)
  expect(papers?.claims).toHaveLength(1)
  expect(papers?.people.map(({ name }) => name)).toContain('Otto Other')
  expect(papers?.slips).toHaveLength(1)
  expect(await dayPapers(db, group.member, swapId)).toBeNull()
  expect(await dayPapers(db, others.helper, swapId)).toBeNull()
  const labels = await lotsToLabel(db, group.helper, 'Europe/London', { swap: swapId })
  expect(labels.map(({ lot, sums }) => [lot.code, sums.free + sums.promised])).toEqual([[code, 10]])
  expect(await lotsToLabel(db, group.member, 'Europe/London', { swap: swapId })).toEqual([])
  expect(await lotsToLabel(db, others.helper, 'Europe/London', { swap: swapId })).toEqual([])
  expect(await lotsToLabel(db, others.helper, 'Europe/London', { lot: code })).toEqual([])
})

describe('the table of who came', () => {
  const sql = async (statement: string, values: unknown[]) => {
    const client = new Client({ connectionString: database.url })
    await client.connect()
    try {
      await client.query('begin')
      await client.query('set local role tallywood_app')
      await client.query(statement, values)
      return 'accepted'
    } catch (error) {
      return error instanceof Error && 'code' in error ? String(error.code) : 'unknown'
    } finally {
      await client.query('rollback')
      await client.end()
    }
  }
  const insert = `insert into swap_presence (group_id, id, swap_id, member_id, came_at, recorded_by_id, undone_at)
    values ($1, gen_random_uuid(), $2, $3, now(), $4, $5)`

  test('takes no person and no swap of another group, and nobody twice', async () => {
    const { db } = database
    const swapId = await makeSwap(db, group)
    const theirs = await makeSwap(db, others)
    const { groupId } = group
    const helper = group.helper.memberId
    expect(await sql(insert, [groupId, swapId, helper, helper, null])).toBe('accepted')
    expect(await sql(insert, [groupId, theirs, helper, helper, null])).toBe('23503')
    expect(await sql(insert, [groupId, swapId, others.helper.memberId, helper, null])).toBe('23503')
    expect(await sql(insert, [groupId, swapId, helper, helper, new Date()])).toBe('23514')
    valueIn(await checkIn(db, group.helper, mabel(swapId)))
    expect(await sql(insert, [groupId, swapId, group.member.memberId, helper, null])).toBe('23505')
  })

  test('is not emptied, and an entry is not made another’s, by the application', async () => {
    const swapId = await makeSwap(database.db, group)
    valueIn(await checkIn(database.db, group.helper, mabel(swapId)))
    expect(await sql('delete from swap_presence where swap_id = $1', [swapId])).toBe('42501')
    const change = 'update swap_presence set member_id = $2 where swap_id = $1'
    expect(await sql(change, [swapId, group.helper.memberId])).toBe('42501')
  })
})
