import { describe, expect, test } from 'vitest'
import { hashPassword } from '#lib/access/password.ts'
import { endAllSessions, setPassword } from '#lib/access/set-password.ts'
import { signInAsDemoPerson } from '#lib/access/sign-in-as-demo-person.ts'
import { requestSignInLink, useSignInLink } from '#lib/access/sign-in-link.ts'
import { signInWithPassword } from '#lib/access/sign-in-with-password.ts'
import { makeGroup } from '#tests/support/actors.ts'
import { testDatabase } from '#tests/support/database.ts'

const database = testDatabase()
const baseUrl = 'http://localhost:3000'

async function makeLogin(email: string, password?: string) {
  const { db } = database
  const id = db.newId()
  await db.prisma.login.create({
    data: { id, email, displayName: 'Wren', passwordHash: password ? await hashPassword(password) : null },
  })
  return id
}

const lastMailTo = async (address: string) =>
  database.db.prisma.outboxMail.findFirst({ where: { toAddress: address }, orderBy: { createdAt: 'desc' } })

const tokenIn = (body: string) => /token=([^&\s]+)/.exec(body)?.[1] ?? ''

describe('signing in with a password', () => {
  test('succeeds with the right one and refuses a wrong one', async () => {
    const { db } = database
    const loginId = await makeLogin('right@example.org', 'quince and medlar')
    const right = await signInWithPassword(db, { email: 'right@example.org', password: 'quince and medlar' })
    expect(right).toEqual({ ok: true, value: { loginId, sessionVersion: 1 } })
    const wrong = await signInWithPassword(db, { email: 'right@example.org', password: 'quince or medlar' })
    expect(wrong).toEqual({ ok: false, refusal: { kind: 'does-not-match' } })
  })

  test('answers an unknown address and a login without a password like a wrong password', async () => {
    const { db } = database
    await makeLogin('no-password@example.org')
    for (const email of ['nobody@example.org', 'no-password@example.org']) {
      expect(await signInWithPassword(db, { email, password: 'whatever it is' })).toEqual({
        ok: false,
        refusal: { kind: 'does-not-match' },
      })
    }
  })

  test('checks nothing more after ten wrong passwords, not even the right one', async () => {
    const { db } = database
    await makeLogin('guessed@example.org', 'the right one indeed')
    await signInWithPassword(db, { email: 'guessed@example.org', password: 'a guess' })
    expect(await db.prisma.signInAttempt.count({ where: { email: 'guessed@example.org' } })).toBe(1)
    await db.prisma.signInAttempt.createMany({
      data: Array.from({ length: 9 }, () => ({
        id: db.newId(),
        email: 'guessed@example.org',
        kind: 'password' as const,
      })),
    })
    const answer = await signInWithPassword(db, {
      email: 'guessed@example.org',
      password: 'the right one indeed',
    })
    expect(answer).toMatchObject({ ok: false, refusal: { kind: 'too-many-tries' } })
  })

  test('a new password ends the sessions that were there', async () => {
    const { db } = database
    const loginId = await makeLogin('changed@example.org', 'the first password')
    const after = await setPassword(db, loginId, { password: 'the second password' })
    expect(after.sessionVersion).toBe(2)
    expect(
      await signInWithPassword(db, { email: 'changed@example.org', password: 'the first password' }),
    ).toMatchObject({
      ok: false,
    })
    await endAllSessions(db, loginId)
    const again = await signInWithPassword(db, {
      email: 'changed@example.org',
      password: 'the second password',
    })
    expect(again).toMatchObject({ ok: true, value: { sessionVersion: 3 } })
  })
})

describe('signing in with a link', () => {
  test('works once', async () => {
    const { db } = database
    const loginId = await makeLogin('link@example.org')
    await requestSignInLink(db, { email: 'link@example.org' }, baseUrl, '/g/marrow-lane')
    const mail = await lastMailTo('link@example.org')
    expect(mail?.body).toContain(`${baseUrl}/sign-in/link?token=`)
    expect(mail?.body).toContain('to=%2Fg%2Fmarrow-lane')
    const token = tokenIn(mail?.body ?? '')
    expect(await useSignInLink(db, token)).toEqual({ ok: true, value: { loginId, sessionVersion: 1 } })
    expect(await useSignInLink(db, token)).toEqual({ ok: false, refusal: { kind: 'link-is-over' } })
  })

  test('is used up by one of two browsers that press at the same moment', async () => {
    const { db } = database
    await makeLogin('twice@example.org')
    await requestSignInLink(db, { email: 'twice@example.org' }, baseUrl, null)
    const token = tokenIn((await lastMailTo('twice@example.org'))?.body ?? '')
    const answers = await Promise.all([useSignInLink(db, token), useSignInLink(db, token)])
    expect(answers.filter((answer) => answer.ok)).toHaveLength(1)
  })

  test('is over after half an hour', async () => {
    const { db } = database
    await makeLogin('late@example.org')
    await requestSignInLink(db, { email: 'late@example.org' }, baseUrl, null)
    const token = tokenIn((await lastMailTo('late@example.org'))?.body ?? '')
    await db.prisma.signInToken.updateMany({
      where: { email: 'late@example.org' },
      data: { expiresAt: new Date(Date.now() - 1000) },
    })
    expect(await useSignInLink(db, token)).toMatchObject({ ok: false })
  })

  test('is not mailed to an address that nobody knows, and nobody is told', async () => {
    const { db } = database
    const answer = await requestSignInLink(db, { email: 'stranger@example.org' }, baseUrl, null)
    expect(answer).toEqual({ ok: true, value: { minutes: 30 } })
    expect(await lastMailTo('stranger@example.org')).toBeNull()
  })

  test('makes an account for an invited person', async () => {
    const { db } = database
    const { groupId, organiser } = await makeGroup(db)
    await db.prisma.invitation.create({
      data: {
        groupId,
        id: db.newId(),
        email: 'invited@example.org',
        role: 'member',
        tokenHash: 'not used here',
        invitedById: organiser.memberId,
        expiresAt: new Date(Date.now() + 3_600_000),
      },
    })
    await requestSignInLink(db, { email: 'invited@example.org' }, baseUrl, null)
    const token = tokenIn((await lastMailTo('invited@example.org'))?.body ?? '')
    const used = await useSignInLink(db, token)
    expect(used.ok).toBe(true)
    expect(await db.prisma.login.findUnique({ where: { email: 'invited@example.org' } })).not.toBeNull()
  })

  test('is refused after five within the hour', async () => {
    const { db } = database
    await makeLogin('eager@example.org')
    for (let i = 0; i < 5; i++) await requestSignInLink(db, { email: 'eager@example.org' }, baseUrl, null)
    expect(await requestSignInLink(db, { email: 'eager@example.org' }, baseUrl, null)).toEqual({
      ok: false,
      refusal: { kind: 'too-many-links' },
    })
  })
})

test('nobody signs in without a secret unless the database says that it is a demo', async () => {
  const { db } = database
  const loginId = await makeLogin('demo@example.org')
  const offered = [{ loginId }]
  expect(await signInAsDemoPerson(db, loginId, offered)).toBeNull()
  await expect(db.pool.query('insert into installation (is_demo) values (true)')).rejects.toThrow(
    'permission denied',
  )
})
