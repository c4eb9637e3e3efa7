import { randomUUID } from 'node:crypto'
import { describe, expect, test } from 'vitest'
import { RecordCheckInput } from '#lib/attempts/input.ts'
import { recordCheck } from '#lib/attempts/record-check.ts'
import { withdrawAttempt } from '#lib/attempts/withdraw-attempt.ts'
import { required } from '#lib/kernel/assert.ts'
import { getMailStop, setMailChoice, switchMailByLink } from '#lib/people/mail-choice.ts'
import { makeToken } from '#lib/platform/secret-token.ts'
import { reminderWorld, secret, tokenIn } from './reminder-world.ts'

const { database, group, now, at, graft, remind, mailsTo, tokenFor, answer } = reminderWorld()

describe('a reminder', () => {
  test('goes out when the look is due, and once more two weeks later, and never again', async () => {
    await graft()
    at('2026-04-30')
    expect(await remind()).toBe(0)
    at('2026-05-01')
    expect(await remind()).toBe(1)
    expect(await remind()).toBe(0)
    at('2026-05-14')
    expect(await remind()).toBe(0)
    at('2026-05-15')
    expect(await remind()).toBe(1)
    at('2026-06-20')
    expect(await remind()).toBe(0)
    const mails = await mailsTo(group().member)
    expect(mails).toHaveLength(2)
    expect(tokenIn(required(mails[1], 'the second').body)).toBe(tokenIn(required(mails[0], 'the first').body))
  })

  test('asks for the next look in its turn', async () => {
    const attemptId = await graft()
    at('2026-05-01')
    await answer(await tokenFor(), { say: 'all' })
    expect(await remind()).toBe(0)
    at('2026-07-01')
    expect(await remind()).toBe(1)
    const reminders = await database.db.prisma.reminder.findMany({
      where: { attemptId },
      orderBy: { sentAt: 'asc' },
    })
    expect(reminders.map(({ checkpoint, nth }) => [checkpoint, nth])).toEqual([
      ['thirty-days', 1],
      ['ninety-days', 1],
    ])
  })

  test('tells of all batches of a person in one mail, with a way to stop such mails', async () => {
    await graft()
    await graft(group().member, { madeOn: '2026-03-30', pieces: 1 })
    await graft(group().otherMember)
    at('2026-05-02')
    expect(await remind()).toBe(2)
    const [mail] = await mailsTo(group().member)
    expect(mail?.subject).toBe('How do they stand? 2 batches of yours')
    expect(mail?.body.match(/\?say=none/g)).toHaveLength(2)
    expect(mail?.unsubscribeUrl).toMatch(
      /^https:\/\/wood\.example\.org\/answer\/stop\/reminders\/[\w-]+\/now$/,
    )
    expect(mail?.body).toContain(mail?.unsubscribeUrl?.replace(/\/now$/, ''))
  })

  test('keeps only the hash of its token', async () => {
    await graft()
    at('2026-05-01')
    const token = await tokenFor()
    const links = await database.db.prisma.checkLink.findMany({ where: { groupId: group().groupId } })
    expect(links).toHaveLength(1)
    expect(JSON.stringify(links)).not.toContain(token)
    expect(links[0]?.tokenHash).toMatch(/^[0-9a-f]{64}$/)
  })

  test('is not sent for what is dead, never made, withdrawn, or looked at on a page', async () => {
    const [dead, never, withdrawn, seen] = [await graft(), await graft(), await graft(), await graft()]
    at('2026-05-01')
    const look = (attemptId: string, counts: Record<string, unknown>) =>
      recordCheck(
        database.db,
        group().member,
        RecordCheckInput.parse({ key: randomUUID(), attemptId, checkedOn: '2026-05-01', ...counts }),
      )
    await look(dead, { dead: 6 })
    await look(never, { unknown: 6, unknownWhy: 'not_attempted' })
    await look(seen, { alive: 6 })
    await withdrawAttempt(database.db, group().member, {
      key: randomUUID(),
      attemptId: withdrawn,
      reason: 'twice',
    })
    expect(await remind()).toBe(0)
    at('2026-07-02')
    expect(await remind()).toBe(1)
    expect((await mailsTo(group().member))[0]?.subject).toContain('6 ×')
  })

  test('is not sent for looks that were due long ago', async () => {
    await graft(group().member, { madeOn: '2025-03-01' })
    at('2026-04-01')
    expect(await remind()).toBe(0)
  })

  test('reaches somebody without an account at the address the group has, and nobody who has left', async () => {
    const { db } = database
    const memberId = db.newId()
    await db.prisma.member.create({
      data: {
        groupId: group().groupId,
        id: memberId,
        displayName: 'Ash',
        email: 'ash@example.org',
        joinedOn: now(),
      },
    })
    await graft(group().helper, { growerId: memberId })
    await graft(group().otherMember)
    const { groupId, otherMember } = group()
    await db.prisma.member.update({
      where: { groupId_id: { groupId, id: otherMember.memberId } },
      data: { leftOn: now() },
    })
    at('2026-05-01')
    expect(await remind()).toBe(1)
    expect(await db.prisma.outboxMail.count({ where: { toAddress: 'ash@example.org' } })).toBe(1)
  })

  test('is stopped by the link at its foot, and taken up again', async () => {
    await graft()
    at('2026-05-01')
    await remind()
    const [mail] = await mailsTo(group().member)
    const token = required(/reminders\/([\w-]+)$/m.exec(mail?.body ?? '')?.[1], 'the link that stops')
    expect(await getMailStop(database.db, 'reminders', token, secret)).toMatchObject({ isOn: true })
    await switchMailByLink(database.db, { kind: 'reminders', token, on: false }, secret)
    at('2026-05-20')
    expect(await remind()).toBe(0)
    expect(await getMailStop(database.db, 'reminders', token, secret)).toMatchObject({ isOn: false })
    await switchMailByLink(database.db, { kind: 'reminders', token, on: true }, secret)
    expect(await remind()).toBe(1)
  })

  test('is stopped for one kind of mail alone, by nobody’s invented link', async () => {
    const { groupId, member } = group()
    const token = makeToken(secret, 'stop-week-mail', [groupId, member.memberId])
    expect(await getMailStop(database.db, 'reminders', token, secret)).toBeNull()
    const switched = await switchMailByLink(database.db, { kind: 'reminders', token, on: false }, secret)
    expect(switched).toEqual({ ok: false, refusal: { kind: 'link-unknown' } })
  })

  test('is not sent to somebody who wants none', async () => {
    const { groupId, member } = group()
    await setMailChoice(
      database.db.prisma,
      database.db,
      { groupId, memberId: member.memberId },
      { reminders: false },
    )
    await graft()
    at('2026-05-01')
    expect(await remind()).toBe(0)
    expect(await database.db.prisma.reminder.count({ where: { groupId } })).toBe(0)
  })
})
