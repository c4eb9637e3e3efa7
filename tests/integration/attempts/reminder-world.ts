import { randomUUID } from 'node:crypto'
import { beforeEach } from 'vitest'
import type { Actor } from '#lib/access/actor.ts'
import { answerByLink } from '#lib/attempts/answer-by-link.ts'
import { AnswerByLinkInput } from '#lib/attempts/answer-input.ts'
import { RecordAttemptInput } from '#lib/attempts/input.ts'
import { recordAttempt } from '#lib/attempts/record-attempt.ts'
import { sendReminders } from '#lib/attempts/send-reminders.ts'
import { required } from '#lib/kernel/assert.ts'
import { makeGroup, makeLot, type TestGroup } from '#tests/support/actors.ts'
import { testDatabase } from '#tests/support/database.ts'

export const secret = 'only for these tests, and long enough'
const post = { baseUrl: 'https://wood.example.org', secret }
const firstDay = '2026-04-01'
const instantOf = (day: string) => new Date(`${day}T10:00:00Z`)

export const tokenIn = (body: string): string =>
  required(/\/answer\/([\w-]+)\?say=all/.exec(body)?.[1], 'a link in the mail')

/** A group that is asked about its grafts, on 1 April 2026 before each test. Call it once, at the top level. */
export function reminderWorld() {
  let now = instantOf(firstDay)
  let made: TestGroup | null = null
  const database = testDatabase({ now: () => now })
  const group = () => required(made, 'the group')

  beforeEach(async () => {
    now = instantOf(firstDay)
    made = await makeGroup(database.db)
  })

  async function graft(actor: Actor = group().member, fields: Record<string, unknown> = {}): Promise<string> {
    const lot = await makeLot(database.db, group())
    const input = RecordAttemptInput.parse({
      key: randomUUID(),
      source: 'own',
      varietyId: lot.varietyId,
      method: 'cleft',
      madeOn: firstDay,
      pieces: 6,
      ...fields,
    })
    const result = await recordAttempt(database.db, actor, input)
    return required(result.ok ? result.value.attemptId : null, 'an attempt')
  }

  const remind = () => sendReminders(database.db, group().groupId, post)

  async function mailsTo({ groupId, memberId }: Actor) {
    const { login } = await database.db.prisma.member.findUniqueOrThrow({
      where: { groupId_id: { groupId, id: memberId } },
      include: { login: true },
    })
    return database.db.prisma.outboxMail.findMany({
      where: { toAddress: login?.email ?? '' },
      orderBy: { createdAt: 'asc' },
    })
  }

  return {
    database,
    /** The group of the present test. */
    group,
    now: () => now,
    at: (day: string) => {
      now = instantOf(day)
    },
    graft,
    remind,
    mailsTo,
    /** Reminds, and takes the token out of the newest mail. */
    async tokenFor(actor: Actor = group().member): Promise<string> {
      await remind()
      return tokenIn(required((await mailsTo(actor)).at(-1), 'a mail').body)
    },
    answer: (token: string, fields: Record<string, unknown>) =>
      answerByLink(database.db, AnswerByLinkInput.parse({ key: randomUUID(), token, ...fields }), secret),
  }
}
