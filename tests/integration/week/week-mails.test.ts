import { randomUUID } from 'node:crypto'
import { Client } from 'pg'
import { beforeEach, describe, expect, test } from 'vitest'
import type { Actor } from '#lib/access/actor.ts'
import { RecordAttemptInput } from '#lib/attempts/input.ts'
import { recordAttempt } from '#lib/attempts/record-attempt.ts'
import { required } from '#lib/kernel/assert.ts'
import { chooseMails } from '#lib/people/choose-mails.ts'
import { getMailStop, switchMailByLink } from '#lib/people/mail-choice.ts'
import { handOutRound, wallHour } from '#lib/week/mail-rounds.ts'
import { sendWeekMails } from '#lib/week/send-week-mails.ts'
import { makeGroup, makeLot, type TestGroup } from '#tests/support/actors.ts'
import { testDatabase } from '#tests/support/database.ts'

/** A Tuesday. */
const tuesday = new Date('2026-06-16T09:00:00Z')
let now = tuesday
const database = testDatabase({ now: () => now })
const secret = 'only for these tests, and long enough'
const post = { baseUrl: 'https://wood.example.org', secret }
let group: TestGroup

beforeEach(async () => {
  now = tuesday
  group = await makeGroup(database.db, 'Test Circle')
})

async function graft(actor: Actor): Promise<void> {
  const lot = await makeLot(database.db, group, {
    cutOn: '2024-01-10',
    sticks: 1,
    varietyName: `Tom ${randomUUID()}`,
  })
  const made = await recordAttempt(
    database.db,
    actor,
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
  expect(made.ok).toBe(true)
}

const send = () => sendWeekMails(database.db, group.groupId, post)

async function mailsTo({ groupId, memberId }: Actor) {
  const { login } = await database.db.prisma.member.findUniqueOrThrow({
    where: { groupId_id: { groupId, id: memberId } },
    include: { login: true },
  })
  return database.db.prisma.outboxMail.findMany({ where: { toAddress: login?.email ?? '' } })
}

describe('the mail of the week', () => {
  test('tells what waits, once a week, to those for whom something does', async () => {
    await graft(group.otherMember)
    expect(await send()).toBe(1)
    const [mail] = await mailsTo(group.otherMember)
    expect(mail?.subject).toMatch(/things wait for you, Test Circle$/)
    expect(mail?.body).toContain('it may strangle: release the tie, 4 × ‘Tom ')
    expect(mail?.body).toContain('After 30 days: green, moving or dead?')
    expect(mail?.body).toContain(`https://wood.example.org/g/${group.slug}`)
    now = new Date('2026-06-21T09:00:00Z')
    expect(await send()).toBe(0)
    now = new Date('2026-06-22T09:00:00Z')
    expect(await send()).toBe(1)
    expect(await mailsTo(group.otherMember)).toHaveLength(2)
  })

  test('is one mail when two servers write it at the same time', async () => {
    await graft(group.otherMember)
    const sent = await Promise.all([send(), send(), send()])
    expect(sent.reduce((sum, count) => sum + count, 0)).toBe(1)
  })

  test('is not written to those who want none, who have left, or have no account', async () => {
    const { groupId } = group
    for (const actor of [group.member, group.otherMember, group.helper]) await graft(actor)
    await chooseMails(database.db, group.otherMember, { reminders: true, weekMail: false })
    const id = { groupId_id: { groupId, id: group.helper.memberId } }
    await database.db.prisma.member.update({ where: id, data: { leftOn: now } })
    await send()
    expect(await mailsTo(group.member)).toHaveLength(1)
    expect(await mailsTo(group.otherMember)).toHaveLength(0)
    expect(await mailsTo(group.helper)).toHaveLength(0)
  })

  test('is stopped by the link at its foot, and the reminders go on', async () => {
    await graft(group.otherMember)
    await send()
    const [mail] = await mailsTo(group.otherMember)
    const token = required(/stop\/week-mail\/([\w-]+)$/m.exec(mail?.body ?? '')?.[1], 'the link that stops')
    await switchMailByLink(database.db, { kind: 'week-mail', token, on: false }, secret)
    expect(await getMailStop(database.db, 'week-mail', token, secret)).toMatchObject({ isOn: false })
    const { groupId, otherMember } = group
    const choice = await database.db.prisma.mailChoice.findUniqueOrThrow({
      where: { groupId_memberId: { groupId, memberId: otherMember.memberId } },
    })
    expect(choice).toMatchObject({ reminders: true, digest: false })
    now = new Date('2026-06-23T09:00:00Z')
    expect(await send()).toBe(0)
  })
})

describe('the round of the hour', () => {
  const round = async () => {
    const sent: string[] = []
    await handOutRound(database.db, {
      send: async (name, _data, key) => {
        if (key === group.groupId) sent.push(name)
      },
    })
    return sent
  }

  test('asks about looks by day, tells of the week on Mondays, and wakes nobody', async () => {
    expect(await round()).toEqual(['remind-group'])
    now = new Date('2026-06-15T09:00:00Z')
    expect(await round()).toEqual(['remind-group', 'week-mail-of-group'])
    now = new Date('2026-06-15T02:00:00Z')
    expect(await round()).toEqual([])
    now = new Date('2026-06-15T21:00:00Z')
    expect(await round()).toEqual([])
  })

  test('goes by the clock on the group’s own wall', () => {
    const at = new Date('2026-06-14T22:30:00Z')
    expect(wallHour('Europe/London', at)).toEqual({ hour: 23, weekday: 0 })
    expect(wallHour('Pacific/Auckland', at)).toEqual({ hour: 10, weekday: 1 })
    expect(wallHour('America/Los_Angeles', at)).toEqual({ hour: 15, weekday: 0 })
  })

  test('sends nothing for the demo world', async () => {
    const owner = new Client({ connectionString: database.url })
    await owner.connect()
    await owner.query('insert into installation (id, is_demo) values (1, true)')
    expect(await round()).toEqual([])
    await owner.query('delete from installation')
    await owner.end()
  })
})
