import { randomUUID } from 'node:crypto'
import { beforeAll, describe, expect, test } from 'vitest'
import { civilDate, utcMidnight } from '#lib/kernel/civil-date.ts'
import { makeGroup, makeLot, type TestGroup } from '#tests/support/actors.ts'
import { testDatabase } from '#tests/support/database.ts'
import { makeAttempt, makeCheck } from './graft-world.ts'
import { rawSqlAs } from './two-roles.ts'

const database = testDatabase()
const { owner, application } = rawSqlAs(database)

const hash = 'a'.repeat(64)
let group: TestGroup
let elsewhere: TestGroup
let attemptId: string
let otherAttemptId: string
let checkId: string
let treeId: string
let linkId: string

beforeAll(async () => {
  const { db } = database
  group = await makeGroup(db)
  elsewhere = await makeGroup(db, 'Elsewhere')
  const lot = await makeLot(db, group)
  treeId = lot.treeId
  attemptId = await makeAttempt(db, group, lot, { pieces: 4 })
  otherAttemptId = await makeAttempt(db, group, lot, { pieces: 4 })
  checkId = await makeCheck(db, group, attemptId, { pieces: 4, alive: 2, dead: 2 })
  linkId = db.newId()
  const { groupId, member } = group
  const of = { groupId, memberId: member.memberId, attemptId, checkpoint: 'thirty-days' }
  const at = new Date('2026-05-01T10:00:00Z')
  await db.prisma.checkLink.create({
    data: { ...of, id: linkId, tokenHash: hash, createdAt: at, expiresAt: new Date('2026-07-01T10:00:00Z') },
  })
  await db.prisma.reminder.create({ data: { ...of, nth: 1, mailId: db.newId(), sentAt: at } })
  await db.prisma.careAnswer.create({
    data: {
      groupId,
      id: db.newId(),
      attemptId,
      task: 'label',
      answer: 'done',
      answeredOn: utcMidnight(civilDate('2026-05-01')),
      answeredById: member.memberId,
      recordedAt: at,
    },
  })
})

type Values = readonly unknown[]

describe('what stands in a row makes sense', () => {
  const reminder = (nth: number, groupId = group.groupId): readonly [string, Values] => [
    `insert into reminder (group_id, attempt_id, checkpoint, nth, member_id, mail_id, sent_at)
     values ($1, $2, 'thirty-days', $3, $4, $5, now())`,
    [groupId, attemptId, nth, group.member.memberId, randomUUID()],
  ]
  const care = (fields: string, values: string): readonly [string, Values] => [
    `insert into care_answer (group_id, id, attempt_id, answered_on, answered_by_id, recorded_at, ${fields})
     values ($1, $2, $3, '2026-05-01', $4, now(), ${values})`,
    [group.groupId, randomUUID(), attemptId, group.member.memberId],
  ]
  const photo = (fields: string, values: string): readonly [string, Values] => [
    `insert into photo (group_id, id, added_by_id, added_at, ${fields}) values ($1, $2, $3, now(), ${values})`,
    [group.groupId, randomUUID(), group.member.memberId],
  ]

  test('a look is asked for twice at most, and each time once', async () => {
    expect(await application.attack(reminder(2))).toMatchObject({ state: 'accepted' })
    expect(await application.attack(reminder(3))).toMatchObject({ constraint: 'reminders_are_two_at_most' })
    expect(await application.attack(reminder(1))).toMatchObject({ state: '23505' })
    expect(await application.attack(reminder(2, elsewhere.groupId))).toMatchObject({ state: '23503' })
  })

  test('care is put off to a later day, with a reason', async () => {
    const put = (until: string, reason: string) =>
      application.attack(
        care('task, answer, deferred_until, reason', `'label', 'deferred', ${until}, ${reason}`),
      )
    expect(await put(`'2026-05-20'`, `'loose'`)).toMatchObject({ state: 'accepted' })
    const constraint = 'care_is_deferred_to_a_later_day'
    expect(await put(`'2026-05-01'`, `'loose'`)).toMatchObject({ constraint })
    expect(await put('null', `'loose'`)).toMatchObject({ state: '23514' })
    expect(await put(`'2026-05-20'`, 'null')).toMatchObject({ constraint })
    expect(
      await application.attack(care('task, answer, deferred_until', `'label', 'done', '2026-05-20'`)),
    ).toMatchObject({ constraint })
    expect(await application.attack(care('task, answer', `' ', 'done'`))).toMatchObject({
      constraint: 'care_answer_names_its_task',
    })
  })

  test('a look is answered through a link of its own batch', async () => {
    const look = (of: string): readonly [string, Values] => [
      `insert into outcome_check (group_id, id, attempt_id, pieces, checked_on, alive, dead, unknown, recorded_by_id, link_id)
       values ($1, $2, $3, 4, '2026-06-01', 4, 0, 0, $4, $5)`,
      [group.groupId, randomUUID(), of, group.member.memberId, linkId],
    ]
    expect(await application.attack(look(attemptId))).toMatchObject({ state: 'accepted' })
    expect(await application.attack(look(otherAttemptId))).toMatchObject({ state: '23503' })
  })

  test.each([
    ['state', `'moving'`, '0, 4, 0', 'check_state_is_of_the_living'],
    ['unknown_why', `'label_lost'`, '2, 2, 0', 'check_says_why_of_the_unknown'],
    ['checkpoint', `' '`, '2, 2, 0', 'check_names_its_checkpoint'],
  ])('a look with a %s of %s and %s: %s', async (column, value, counts, constraint) => {
    const insert = (written: string): readonly [string, Values] => [
      `insert into outcome_check (group_id, id, attempt_id, pieces, checked_on, alive, dead, unknown, recorded_by_id, ${column})
       values ($1, $2, $3, 4, '2026-06-01', ${counts}, $4, ${written})`,
      [group.groupId, randomUUID(), attemptId, group.member.memberId],
    ]
    expect(await application.attack(insert(value))).toMatchObject({ constraint })
    expect(await application.attack(insert('null'))).toMatchObject({ state: 'accepted' })
  })

  test('a cause in own words has words, and no other has', async () => {
    const cause = (key: string, words: string | null): readonly [string, Values] => [
      'insert into check_cause (group_id, check_id, cause, pieces, words) values ($1, $2, $3, 1, $4)',
      [group.groupId, checkId, key, words],
    ]
    const constraint = 'cause_in_own_words_has_words'
    expect(await application.attack(cause('own-words', 'slugs'))).toMatchObject({ state: 'accepted' })
    expect(await application.attack(cause('own-words', ' '))).toMatchObject({ constraint })
    expect(await application.attack(cause('mould', 'slugs'))).toMatchObject({ constraint })
  })

  test('a photo shows one thing, is small enough, and is there once', async () => {
    const of = (size: string) => `'${checkId}', '${hash}', ${size}`
    const columns = 'check_id, sha256, width, height, bytes'
    const good = photo(columns, of('1600, 900, 300000'))
    expect(await application.attack(good)).toMatchObject({ state: 'accepted' })
    const again = photo(columns, of('1600, 900, 300000'))
    expect(await application.attack(good, again)).toMatchObject({ state: '23505' })
    for (const size of ['5000, 900, 300000', '0, 900, 300000', '1600, 900, 40000000']) {
      expect(await application.attack(photo(columns, of(size)))).toMatchObject({
        constraint: 'photo_has_a_bounded_size',
      })
    }
    const both = photo(`tree_id, ${columns}`, `'${treeId}', ${of('16, 9, 30')}`)
    expect(await application.attack(both)).toMatchObject({ constraint: 'photo_shows_one_thing' })
    const neither = photo('sha256, width, height, bytes', `'${hash}', 16, 9, 30`)
    expect(await application.attack(neither)).toMatchObject({ constraint: 'photo_shows_one_thing' })
    expect(await application.attack(good, ['update photo set removed_at = now()'])).toMatchObject({
      constraint: 'photo_is_removed_by_somebody',
    })
  })

  test('a person has one calendar at a time, and only the hash of its token is kept', async () => {
    const feed = (token: string): readonly [string, Values] => [
      'insert into calendar_feed (group_id, id, member_id, token_hash, created_at) values ($1, $2, $3, $4, now())',
      [group.groupId, randomUUID(), group.member.memberId, token],
    ]
    expect(await application.attack(feed('b'.repeat(64)), feed('c'.repeat(64)))).toMatchObject({
      constraint: 'calendar_feed_is_one_at_a_time',
    })
    expect(await application.attack(feed('the token itself'.padEnd(64)))).toMatchObject({
      constraint: 'calendar_feed_keeps_a_hash',
    })
  })

  test('the mail of a week is of a Monday', async () => {
    const mail = (day: string): readonly [string, Values] => [
      'insert into week_mail (group_id, member_id, week_of, needs, sent_at) values ($1, $2, $3, 1, now())',
      [group.groupId, group.member.memberId, day],
    ]
    expect(await application.attack(mail('2026-05-04'))).toMatchObject({ state: 'accepted' })
    expect(await application.attack(mail('2026-05-05'))).toMatchObject({
      constraint: 'week_mail_is_of_a_monday',
    })
    expect(await application.attack(mail('2026-05-04'), mail('2026-05-04'))).toMatchObject({ state: '23505' })
  })

  test('a limb that was grafted onto is one of the tree that is named', async () => {
    const { db } = database
    const other = await makeLot(db, group)
    const set = (limb: string | null, tree: string | null): readonly [string, Values] => [
      'update attempt set host_limb_id = $1, host_tree_id = $2 where group_id = $3 and id = $4',
      [limb, tree, group.groupId, attemptId],
    ]
    expect(await owner.attack(set(other.limbId, other.treeId))).toMatchObject({ state: 'accepted' })
    expect(await owner.attack(set(other.limbId, treeId))).toMatchObject({ state: '23503' })
    expect(await owner.attack(set(other.limbId, null))).toMatchObject({
      constraint: 'attempt_on_a_limb_names_its_tree',
    })
  })
})

describe('what was written stays as it was', () => {
  const changes = [
    'update reminder set nth = 2',
    'delete from reminder',
    'truncate reminder',
    `update care_answer set answer = 'not_needed'`,
    'delete from care_answer',
    'truncate care_answer',
  ]

  test.each(changes)('the owner of the tables is refused: %s', async (change) => {
    expect(await owner.attack(change)).toMatchObject({ state: 'TW001' })
  })

  test.each([
    ...changes,
    `update check_link set expires_at = now() + interval '9 years'`,
    'delete from check_link',
    'delete from calendar_feed',
    `update calendar_feed set token_hash = '${hash}'`,
    `update photo set sha256 = '${hash}'`,
    'delete from photo',
    'delete from week_mail',
    'delete from mail_choice',
  ])('the application lacks the right: %s', async (change) => {
    expect(await application.attack(change)).toMatchObject({ state: '42501' })
  })
})
