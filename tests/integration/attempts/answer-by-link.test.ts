import { randomUUID } from 'node:crypto'
import { describe, expect, test } from 'vitest'
import { answerByLink } from '#lib/attempts/answer-by-link.ts'
import { AnswerByLinkInput } from '#lib/attempts/answer-input.ts'
import { getAnswer } from '#lib/attempts/get-answer.ts'
import { RecordCheckInput } from '#lib/attempts/input.ts'
import { getAttempt } from '#lib/attempts/queries.ts'
import { recordCheck } from '#lib/attempts/record-check.ts'
import { withdrawAttempt } from '#lib/attempts/withdraw-attempt.ts'
import { required } from '#lib/kernel/assert.ts'
import { makeToken } from '#lib/platform/secret-token.ts'
import { reminderWorld, secret } from './reminder-world.ts'

const { database, group, now, at, graft, tokenFor, answer } = reminderWorld()

describe('the page of a link', () => {
  test('shows the question and changes nothing, however often it is opened', async () => {
    const attemptId = await graft()
    at('2026-05-01')
    const token = await tokenFor()
    for (let times = 0; times < 3; times++) {
      expect(await getAnswer(database.db, token, secret)).toMatchObject({
        state: 'open',
        pieces: 6,
        checkpoint: 'thirty-days',
        standing: null,
      })
    }
    expect(await database.db.prisma.outcomeCheck.count({ where: { attemptId } })).toBe(0)
  })

  test('is not there for anything but a link of ours', async () => {
    await graft()
    at('2026-05-01')
    const token = await tokenFor()
    expect(await getAnswer(database.db, token, `${secret}!`)).toBeNull()
    expect(await getAnswer(database.db, `${token}A`, secret)).toBeNull()
    const unsent = makeToken(secret, 'answer', [group().groupId, randomUUID()])
    expect(await getAnswer(database.db, unsent, secret)).toBeNull()
    expect(await answer(unsent, { say: 'all' })).toEqual({ ok: false, refusal: { kind: 'link-unknown' } })
  })
})

describe('an answer by link', () => {
  const standing = async (attemptId: string) =>
    required((await getAttempt(database.db, group().member, attemptId))?.standing, 'a look')

  test.each([
    [
      { say: 'all', state: 'moving' },
      { alive: 6, dead: 0, unknown: 0, state: 'moving', unknownWhy: null },
    ],
    [
      { say: 'none', cause: 'mould' },
      { alive: 0, dead: 6, unknown: 0, causes: [{ cause: 'mould', label: 'Mould', pieces: 6 }] },
    ],
    [
      { say: 'some', alive: '4' },
      { alive: 4, dead: 2, unknown: 0 },
    ],
    [
      { say: 'some', dead: '1' },
      { alive: 5, dead: 1, unknown: 0 },
    ],
    [
      { say: 'some', alive: '2', dead: '1', cause: 'own-words', words: 'Slugs' },
      { alive: 2, dead: 1, unknown: 3, causes: [{ cause: 'own-words', label: 'Slugs', pieces: 1 }] },
    ],
    [{ say: 'not-attempted' }, { alive: 0, dead: 0, unknown: 6, unknownWhy: 'not_attempted' }],
    [{ say: 'cannot-tell' }, { alive: 0, dead: 0, unknown: 6, unknownWhy: null }],
  ])('%o is a look of today by that person', async (said, expected) => {
    const attemptId = await graft()
    at('2026-05-01')
    const token = await tokenFor()
    expect((await answer(token, said)).ok).toBe(true)
    expect(await standing(attemptId)).toMatchObject({
      checkedOn: '2026-05-01',
      checkpoint: 'thirty-days',
      recordedBy: 'Mabel Member',
      isByLink: true,
      ...expected,
    })
    expect(await getAnswer(database.db, token, secret)).toMatchObject({ standing: { say: said.say } })
  })

  test('is put right through the same link, and both stay to be read', async () => {
    const attemptId = await graft()
    at('2026-05-01')
    const token = await tokenFor()
    await answer(token, { say: 'none' })
    at('2026-05-03')
    await answer(token, { say: 'some', alive: '5' })
    await answer(token, { say: 'all' })
    const { checks } = required(await getAttempt(database.db, group().member, attemptId), 'the attempt')
    expect(checks.map(({ alive, checkedOn, isCorrected }) => [alive, checkedOn, isCorrected])).toEqual(
      expect.arrayContaining([
        [0, '2026-05-01', true],
        [5, '2026-05-01', true],
        [6, '2026-05-01', false],
      ]),
    )
  })

  test('corrects what was corrected on a page in between', async () => {
    const attemptId = await graft()
    at('2026-05-01')
    const token = await tokenFor()
    await answer(token, { say: 'none' })
    const wrong = await standing(attemptId)
    await recordCheck(
      database.db,
      group().member,
      RecordCheckInput.parse({
        key: randomUUID(),
        attemptId,
        checkedOn: '2026-05-01',
        alive: 3,
        dead: 3,
        supersedesId: wrong.id,
      }),
    )
    expect((await answer(token, { say: 'all' })).ok).toBe(true)
    expect(await standing(attemptId)).toMatchObject({ alive: 6 })
  })

  test('is one answer on the second click, and of two at once one corrects the other', async () => {
    const attemptId = await graft()
    at('2026-05-01')
    const token = await tokenFor()
    const input = AnswerByLinkInput.parse({ key: randomUUID(), token, say: 'all' })
    const first = await answerByLink(database.db, input, secret)
    expect(await answerByLink(database.db, input, secret)).toEqual(first)
    expect(await database.db.prisma.outcomeCheck.count({ where: { attemptId } })).toBe(1)
    await Promise.all([answer(token, { say: 'none' }), answer(token, { say: 'cannot-tell' })])
    const checks = await database.db.prisma.outcomeCheck.findMany({
      where: { attemptId },
      include: { supersededBy: true },
    })
    expect(checks).toHaveLength(3)
    expect(checks.filter(({ supersededBy }) => supersededBy === null)).toHaveLength(1)
  })

  test('is refused once the link has run out', async () => {
    await graft()
    at('2026-05-01')
    const token = await tokenFor()
    at('2026-06-30')
    expect(await answer(token, { say: 'all' })).toEqual({
      ok: false,
      refusal: { kind: 'link-is-over', on: '2026-06-30' },
    })
    expect(await getAnswer(database.db, token, secret)).toMatchObject({ state: 'over' })
  })

  test('is refused for an entry that was withdrawn, and for more pieces than there were', async () => {
    const attemptId = await graft()
    at('2026-05-01')
    const token = await tokenFor()
    expect(await answer(token, { say: 'some', alive: 7, dead: 0 })).toMatchObject({
      refusal: { kind: 'does-not-add-up', pieces: 6 },
    })
    await withdrawAttempt(database.db, group().member, { key: randomUUID(), attemptId, reason: 'twice' })
    expect(await answer(token, { say: 'all' })).toMatchObject({ refusal: { kind: 'withdrawn' } })
    expect(await getAnswer(database.db, token, secret)).toMatchObject({ state: 'withdrawn' })
  })

  test('is refused to somebody who has left', async () => {
    await graft()
    at('2026-05-01')
    const token = await tokenFor()
    const { groupId, member } = group()
    await database.db.prisma.member.update({
      where: { groupId_id: { groupId, id: member.memberId } },
      data: { leftOn: now() },
    })
    expect(await answer(token, { say: 'all' })).toMatchObject({ refusal: { kind: 'link-is-over' } })
  })

  test('needs the number when only some are alive', () => {
    const parsed = AnswerByLinkInput.safeParse({ key: randomUUID(), token: 'x', say: 'some', alive: '' })
    expect(parsed.success).toBe(false)
  })
})
