import { randomUUID } from 'node:crypto'
import ICAL from 'ical.js'
import { beforeEach, describe, expect, test } from 'vitest'
import type { Actor } from '#lib/access/actor.ts'
import { RecordAttemptInput, RecordCheckInput } from '#lib/attempts/input.ts'
import { recordAttempt } from '#lib/attempts/record-attempt.ts'
import { recordCheck } from '#lib/attempts/record-check.ts'
import { withdrawAttempt } from '#lib/attempts/withdraw-attempt.ts'
import { answerCare } from '#lib/care/answer-care.ts'
import {
  calendarAddress,
  makeCalendarFeed,
  readCalendar,
  revokeCalendarFeed,
} from '#lib/care/calendar-feed.ts'
import { AnswerCareInput } from '#lib/care/input.ts'
import { careDue, careOfAttempt } from '#lib/care/queries.ts'
import { required } from '#lib/kernel/assert.ts'
import { makeGroup, makeLot, type TestGroup } from '#tests/support/actors.ts'
import { testDatabase } from '#tests/support/database.ts'

let now = new Date('2026-06-15T10:00:00Z')
const database = testDatabase({ now: () => now })
const post = { baseUrl: 'https://wood.example.org', secret: 'only for these tests, and long enough' }

let group: TestGroup
let attemptId: string

async function graft(varietyName?: string): Promise<string> {
  const lot = await makeLot(database.db, group, varietyName ? { varietyName } : {})
  const result = await recordAttempt(
    database.db,
    group.member,
    RecordAttemptInput.parse({
      key: randomUUID(),
      source: 'own',
      varietyId: lot.varietyId,
      method: 'cleft',
      wrap: 'string',
      madeOn: '2026-04-01',
      pieces: 4,
    }),
  )
  return required(result.ok ? result.value.attemptId : null, 'an attempt')
}

beforeEach(async () => {
  now = new Date('2026-06-15T10:00:00Z')
  group = await makeGroup(database.db)
  attemptId = await graft('Keswick, Codlin')
})

const said = (fields: Record<string, unknown> = {}) =>
  AnswerCareInput.parse({ key: randomUUID(), attemptId, task: 'release-tie', answer: 'done', ...fields })
const answer = (actor: Actor, fields: Record<string, unknown> = {}) =>
  answerCare(database.db, actor, said(fields))
const task = async (id: string) =>
  (await careOfAttempt(database.db, group.member, attemptId)).find((view) => view.task.id === id)
const looked = (counts: Record<string, unknown>) =>
  recordCheck(
    database.db,
    group.member,
    RecordCheckInput.parse({ key: randomUUID(), attemptId, checkedOn: '2026-06-15', ...counts }),
  )

describe('care that waits', () => {
  test('has the tie of string first, with what others advise and where from', async () => {
    const due = await careDue(database.db, group.member)
    expect(due[0]).toMatchObject({
      batch: { attemptId, pieces: 4, varietyName: 'Keswick, Codlin' },
      care: { state: 'overdue-strong', dueOn: '2026-06-10', task: { id: 'release-tie' } },
    })
    const advice = due[0]?.care.task.otherAdvice ?? []
    expect(advice.some(({ says }) => says.includes('3 to 4 months'))).toBe(true)
    expect(due[0]?.care.task.basis).toBe('common practice, no source')
  })

  test('is never that of a dead graft, of one never made, or of a withdrawn entry', async () => {
    await looked({ dead: 4 })
    expect(await careDue(database.db, group.member)).toEqual([])
    expect(await answer(group.member)).toEqual({ ok: false, refusal: { kind: 'nothing-alive' } })
    attemptId = await graft()
    await looked({ unknown: 4, unknownWhy: 'not_attempted' })
    expect(await careDue(database.db, group.member)).toEqual([])
    attemptId = await graft()
    await withdrawAttempt(database.db, group.member, { key: randomUUID(), attemptId, reason: 'twice' })
    expect(await careDue(database.db, group.member)).toEqual([])
    expect(await answer(group.member)).toEqual({ ok: false, refusal: { kind: 'withdrawn', reason: 'twice' } })
  })

  test('is one’s own; helpers see that of others', async () => {
    const { memberId } = group.member
    expect(await careDue(database.db, group.otherMember)).toEqual([])
    expect(await careDue(database.db, group.otherMember, { growerId: memberId })).toEqual([])
    expect(await careDue(database.db, group.helper, { growerId: memberId })).not.toEqual([])
    expect(await careOfAttempt(database.db, group.otherMember, attemptId)).toEqual([])
  })
})

describe('an answer to a task', () => {
  test('settles it, and a later answer stands in for it', async () => {
    expect((await answer(group.member)).ok).toBe(true)
    expect(await task('release-tie')).toMatchObject({ state: 'settled', answer: { by: 'Mabel Member' } })
    await answer(group.member, { answer: 'deferred', until: '2026-07-15', reason: 'It still holds loosely' })
    expect(await task('release-tie')).toMatchObject({
      state: 'coming',
      dueOn: '2026-07-15',
      answer: { answer: 'deferred', reason: 'It still holds loosely', until: '2026-07-15' },
    })
    now = new Date('2026-07-25T10:00:00Z')
    expect(await task('release-tie')).toMatchObject({ state: 'overdue-strong' })
    expect(await database.db.prisma.careAnswer.count({ where: { attemptId } })).toBe(2)
  })

  test('that puts it off needs a reason and a day to come', async () => {
    const put = { answer: 'deferred', until: '2026-07-15', reason: 'Later' }
    expect(AnswerCareInput.safeParse({ ...said(), ...put, reason: '' }).success).toBe(false)
    expect(AnswerCareInput.safeParse({ ...said(), ...put, until: '' }).success).toBe(false)
    expect(await answer(group.member, { ...put, until: '2026-06-15' })).toEqual({
      ok: false,
      refusal: { kind: 'until-is-past', today: '2026-06-15' },
    })
  })

  test('is one answer on the second click', async () => {
    const input = said()
    const first = await answerCare(database.db, group.member, input)
    expect(await answerCare(database.db, group.member, input)).toEqual(first)
    expect(await database.db.prisma.careAnswer.count({ where: { attemptId } })).toBe(1)
  })

  test('is to a task that the batch asks for', async () => {
    expect(await answer(group.member, { task: 'sever' })).toEqual({
      ok: false,
      refusal: { kind: 'no-such-task' },
    })
  })

  test('is the grower’s, or of those who act for others; another group’s batch is not there', async () => {
    expect(await answer(group.otherMember)).toMatchObject({ refusal: { kind: 'not-allowed' } })
    const stranger = (await makeGroup(database.db)).organiser
    expect(await answer(stranger)).toEqual({ ok: false, refusal: { kind: 'not-found' } })
    for (const actor of [group.helper, group.steward, group.organiser, group.member]) {
      expect((await answer(actor)).ok).toBe(true)
    }
  })
})

describe('the calendar', () => {
  async function address(actor: Actor = group.member): Promise<string> {
    await makeCalendarFeed(database.db, actor, { key: randomUUID() }, post)
    const found = required(await calendarAddress(database.db, actor, 'Europe/London', post), 'an address')
    return required(/\/api\/calendar\/([\w-]+)\.ics$/.exec(found.url)?.[1], 'a token')
  }

  const textOf = async (token: string) => required(await readCalendar(database.db, token, post), 'a calendar')

  function eventsOf(text: string): ReadonlyMap<string, ICAL.Event> {
    const calendar = new ICAL.Component(ICAL.parse(text))
    return new Map(
      calendar.getAllSubcomponents('vevent').map((component) => {
        const event = new ICAL.Event(component)
        return [event.uid, event]
      }),
    )
  }

  const eventOf = (text: string, task: string): ICAL.Event =>
    required(eventsOf(text).get(`${attemptId}.${task}@tallywood`), `the event ${task}`)
  const statusOf = (event: ICAL.Event) => event.component.getFirstPropertyValue('status')

  test('is read by a parser: all-day events with stable names, lines no longer than 75 octets', async () => {
    const token = await address()
    const text = await textOf(token)
    for (const line of text.split('\r\n')) expect(Buffer.byteLength(line)).toBeLessThanOrEqual(75)
    expect(text.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/)
    expect(text.endsWith('END:VCALENDAR\r\n')).toBe(true)
    const event = eventOf(text, 'care.release-tie')
    expect(event.startDate.isDate).toBe(true)
    expect([event.startDate.toString(), event.endDate.toString()]).toEqual(['2026-06-10', '2026-06-11'])
    expect(event.summary).toBe('Release the tie: 4 × ‘Keswick, Codlin’')
    expect(event.description).toContain('Common practice, no source.')
    expect(statusOf(event)).toBe('CONFIRMED')
    const again = eventsOf(await textOf(token))
    expect([...again.keys()]).toEqual([...eventsOf(text).keys()])
    expect(eventOf(text, 'look.ninety-days').startDate.toString()).toBe('2026-06-30')
  })

  test('moves what was put off, under the same name and a higher number', async () => {
    const token = await address()
    const before = eventOf(await textOf(token), 'care.release-tie')
    now = new Date('2026-06-16T10:00:00Z')
    await answer(group.member, { answer: 'deferred', until: '2026-07-15', reason: 'It holds loosely' })
    const after = eventOf(await textOf(token), 'care.release-tie')
    expect(after.startDate.toString()).toBe('2026-07-15')
    expect(after.sequence).toBeGreaterThan(before.sequence)
    expect(after.description).toContain('Put off: It holds loosely')
    const changed = (event: ICAL.Event) => String(event.component.getFirstPropertyValue('dtstamp'))
    expect(changed(after) > changed(before)).toBe(true)
  })

  test('calls off what is not needed, and everything of a graft that died', async () => {
    const token = await address()
    await answer(group.member, { answer: 'not_needed' })
    const skipped = eventOf(await textOf(token), 'care.release-tie')
    expect(statusOf(skipped)).toBe('CANCELLED')
    const before = eventOf(await textOf(token), 'care.inspect-tie')
    expect(statusOf(before)).toBe('CONFIRMED')
    await looked({ dead: 4 })
    const after = await textOf(token)
    expect(statusOf(eventOf(after, 'care.inspect-tie'))).toBe('CANCELLED')
    expect(eventOf(after, 'care.inspect-tie').sequence).toBeGreaterThan(before.sequence)
    expect(statusOf(eventOf(after, 'look.leaf-fall'))).toBe('CANCELLED')
  })

  test('calls off a withdrawn entry, and says of a done task that it is done', async () => {
    const token = await address()
    await answer(group.member, { task: 'inspect-tie' })
    expect(eventOf(await textOf(token), 'care.inspect-tie').summary).toMatch(/^Done: /)
    await withdrawAttempt(database.db, group.member, { key: randomUUID(), attemptId, reason: 'twice' })
    const text = await textOf(token)
    expect(statusOf(eventOf(text, 'care.release-tie'))).toBe('CANCELLED')
    expect(statusOf(eventOf(text, 'look.ninety-days'))).toBe('CANCELLED')
  })

  test('holds the things of one person alone', async () => {
    expect(eventsOf(await textOf(await address(group.otherMember))).size).toBe(0)
  })

  test('answers under the newest address alone, until that is closed, and never to a guess', async () => {
    const old = await address()
    const token = await address()
    expect(token).not.toBe(old)
    expect(await readCalendar(database.db, old, post)).toBeNull()
    expect(await readCalendar(database.db, token, { ...post, secret: `${post.secret}!` })).toBeNull()
    expect(await readCalendar(database.db, token.slice(1), post)).toBeNull()
    expect(JSON.stringify(await database.db.prisma.calendarFeed.findMany())).not.toContain(token)
    await revokeCalendarFeed(database.db, group.member, { key: randomUUID() })
    expect(await readCalendar(database.db, token, post)).toBeNull()
    expect(await calendarAddress(database.db, group.member, 'Europe/London', post)).toBeNull()
  })

  test('closes with the membership, and is made once by a second click', async () => {
    const key = randomUUID()
    const first = await makeCalendarFeed(database.db, group.member, { key }, post)
    expect(await makeCalendarFeed(database.db, group.member, { key }, post)).toEqual(first)
    const found = required(
      await calendarAddress(database.db, group.member, 'Europe/London', post),
      'an address',
    )
    const token = required(/calendar\/([\w-]+)\.ics/.exec(found.url)?.[1], 'a token')
    await textOf(token)
    const { groupId, member } = group
    await database.db.prisma.member.update({
      where: { groupId_id: { groupId, id: member.memberId } },
      data: { leftOn: now },
    })
    expect(await readCalendar(database.db, token, post)).toBeNull()
  })
})
