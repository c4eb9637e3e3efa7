import { randomBytes, randomUUID } from 'node:crypto'
import { describe, expect, test } from 'vitest'
import { civilDate } from '#lib/kernel/civil-date.ts'
import { acceptInvitation } from '#lib/people/accept-invitation.ts'
import { addMember } from '#lib/people/add-member.ts'
import { InvitePersonInput } from '#lib/people/input.ts'
import { type Invited, invitePerson } from '#lib/people/invite-person.ts'
import { getInvitation, getMember, groupsOfLogin, listInvitations } from '#lib/people/queries.ts'
import { recordDeparture } from '#lib/people/record-departure.ts'
import { revokeInvitation } from '#lib/people/revoke-invitation.ts'
import { makeGroup, type TestGroup } from '#tests/support/actors.ts'
import { testDatabase } from '#tests/support/database.ts'

const start = new Date('2027-02-04T10:00:00Z')
let now = start
const database = testDatabase({ now: () => now })
const baseUrl = 'https://wood.example.org'

const anyAddress = () => `${randomBytes(6).toString('hex')}@example.org`

async function loginWith(email: string): Promise<string> {
  const id = database.db.newId()
  await database.db.prisma.login.create({ data: { id, email, displayName: 'Wren Halloway' } })
  return id
}

async function invited(
  group: TestGroup,
  email: string,
  more: { role?: 'organiser' | 'steward' | 'helper' | 'member'; memberId?: string } = {},
): Promise<Invited & { token: string }> {
  const input = { key: randomUUID(), email, role: 'member' as const, ...more }
  const result = await invitePerson(database.db, group.organiser, input, baseUrl)
  if (!result.ok || result.value.token === null) throw new Error('not invited')
  return { ...result.value, token: result.value.token }
}

const accept = (loginId: string, token: string) => acceptInvitation(database.db, { loginId }, { token })

describe('inviting', () => {
  test('writes a mail with the link and keeps only a hash of the token', async () => {
    const group = await makeGroup(database.db)
    const email = anyAddress()
    const { token, link, invitationId } = await invited(group, email, { role: 'helper' })
    expect(link).toBe(`${baseUrl}/join/${token}`)
    const mails = await database.db.prisma.outboxMail.findMany({ where: { toAddress: email } })
    expect(mails).toHaveLength(1)
    expect(mails[0]?.subject).toBe('Olive Organiser invites you to Test Circle')
    expect(mails[0]?.body).toContain(`${baseUrl}/join/${token}`)
    const row = await database.db.prisma.invitation.findFirstOrThrow({ where: { id: invitationId } })
    expect(row.tokenHash).not.toContain(token)
    const kept = await database.db.prisma.idempotencyKey.findMany({ where: { groupId: group.groupId } })
    expect(JSON.stringify(kept)).not.toContain(token)
    expect(await getInvitation(database.db, token)).toEqual({
      state: 'open',
      groupName: 'Test Circle',
      slug: group.slug,
      invitedBy: 'Olive Organiser',
      email,
      role: 'helper',
      memberName: null,
      expiresOn: '2027-02-18',
    })
  })

  test('the second click sends no second mail and no longer knows the token', async () => {
    const group = await makeGroup(database.db)
    const input = { key: randomUUID(), email: anyAddress(), role: 'member' as const }
    const first = await invitePerson(database.db, group.organiser, input, baseUrl)
    const second = await invitePerson(database.db, group.organiser, input, baseUrl)
    expect(first.ok && second.ok && second.value.invitationId === first.value.invitationId).toBe(true)
    expect(second).toMatchObject({ ok: true, value: { token: null, link: null } })
    expect(await database.db.prisma.outboxMail.count({ where: { toAddress: input.email } })).toBe(1)
  })

  test('is for organisers', async () => {
    const group = await makeGroup(database.db)
    for (const actor of [group.steward, group.helper, group.member]) {
      const input = { key: randomUUID(), email: anyAddress(), role: 'member' as const }
      const result = await invitePerson(database.db, actor, input, baseUrl)
      expect(result).toMatchObject({ ok: false, refusal: { right: 'invite-people' } })
      expect(await listInvitations(database.db, actor)).toEqual([])
    }
  })

  test('an address is compared in small letters', () => {
    const input = { key: randomUUID(), email: ' Wren@Example.ORG ', role: 'member' }
    expect(InvitePersonInput.parse(input).email).toBe('wren@example.org')
    const wrong = InvitePersonInput.safeParse({ ...input, email: 'wren' })
    expect(wrong.error?.issues[0]?.message).toBe('Enter an e-mail address, such as wren@example.org')
  })

  test('somebody who is a member already is refused by name', async () => {
    const group = await makeGroup(database.db)
    const login = await database.db.prisma.login.findFirstOrThrow({
      where: { members: { some: { id: group.member.memberId } } },
    })
    const input = { key: randomUUID(), email: login.email, role: 'member' as const }
    const result = await invitePerson(database.db, group.organiser, input, baseUrl)
    expect(result).toEqual({ ok: false, refusal: { kind: 'already-member', name: 'Mabel Member' } })
  })

  test('a known person is refused when they have an account, have left, or belong to another group', async () => {
    const group = await makeGroup(database.db)
    const other = await makeGroup(database.db)
    const inviteAs = (memberId: string) =>
      invitePerson(
        database.db,
        group.organiser,
        { key: randomUUID(), email: anyAddress(), role: 'member', memberId },
        baseUrl,
      )
    expect(await inviteAs(group.member.memberId)).toMatchObject({ refusal: { kind: 'has-account' } })
    expect(await inviteAs(other.member.memberId)).toMatchObject({ refusal: { kind: 'not-found' } })
    const named = await addMember(database.db, group.organiser, {
      key: randomUUID(),
      displayName: 'Gone Away',
      role: 'member',
    })
    const memberId = named.ok ? named.value.memberId : ''
    await recordDeparture(database.db, group.organiser, { memberId, leftOn: civilDate('2027-02-04') })
    expect(await inviteAs(memberId)).toMatchObject({ refusal: { kind: 'has-left', name: 'Gone Away' } })
  })

  test('a newer invitation to the same address takes the older one’s place', async () => {
    const group = await makeGroup(database.db)
    const email = anyAddress()
    const older = await invited(group, email)
    const newer = await invited(group, email)
    expect((await getInvitation(database.db, older.token))?.state).toBe('revoked')
    expect((await getInvitation(database.db, newer.token))?.state).toBe('open')
    expect(await listInvitations(database.db, group.organiser)).toHaveLength(1)
  })
})

describe('accepting', () => {
  test('makes the signed-in person a member with the role of the invitation', async () => {
    const group = await makeGroup(database.db)
    const email = anyAddress()
    const { token } = await invited(group, email, { role: 'helper' })
    const loginId = await loginWith(email)
    expect(await accept(loginId, token)).toEqual({ ok: true, value: { slug: group.slug } })
    expect(await groupsOfLogin(database.db, loginId)).toEqual([
      { slug: group.slug, name: 'Test Circle', role: 'helper' },
    ])
    expect((await getInvitation(database.db, token))?.state).toBe('used')
    expect(await accept(loginId, token)).toEqual({ ok: true, value: { slug: group.slug } })
    expect(await database.db.prisma.member.count({ where: { groupId: group.groupId, loginId } })).toBe(1)
  })

  test('a newcomer says what the group shall call them', async () => {
    const group = await makeGroup(database.db)
    const email = anyAddress()
    const { token } = await invited(group, email)
    const loginId = await loginWith(email)
    const input = { token, displayName: 'Wren of the Lane' }
    expect((await acceptInvitation(database.db, { loginId }, input)).ok).toBe(true)
    const member = await database.db.prisma.member.findFirstOrThrow({ where: { loginId } })
    expect([member.displayName, member.email]).toEqual(['Wren of the Lane', email])
  })

  test('two clicks at the same moment make one member', async () => {
    const group = await makeGroup(database.db)
    const email = anyAddress()
    const { token } = await invited(group, email)
    const loginId = await loginWith(email)
    const results = await Promise.all([accept(loginId, token), accept(loginId, token)])
    expect(results.map((result) => result.ok)).toEqual([true, true])
    expect(await database.db.prisma.member.count({ where: { groupId: group.groupId, loginId } })).toBe(1)
  })

  test('gives an account to somebody already known by name, with all that is recorded for them', async () => {
    const group = await makeGroup(database.db)
    const named = await addMember(database.db, group.organiser, {
      key: randomUUID(),
      displayName: 'Joss Pemberley',
      role: 'member',
    })
    const memberId = named.ok ? named.value.memberId : ''
    const email = anyAddress()
    const { token } = await invited(group, email, { memberId })
    expect((await getInvitation(database.db, token))?.memberName).toBe('Joss Pemberley')
    const loginId = await loginWith(email)
    expect((await accept(loginId, token)).ok).toBe(true)
    expect(await getMember(database.db, group.organiser, memberId)).toMatchObject({
      name: 'Joss Pemberley',
      hasAccount: true,
    })
  })

  test('takes up again the membership of somebody who left', async () => {
    const group = await makeGroup(database.db)
    const { memberId } = group.member
    const login = await database.db.prisma.login.findFirstOrThrow({
      where: { members: { some: { id: memberId } } },
    })
    await recordDeparture(database.db, group.organiser, { memberId, leftOn: civilDate('2027-02-01') })
    const { token } = await invited(group, login.email, { role: 'helper' })
    expect((await accept(login.id, token)).ok).toBe(true)
    const back = await getMember(database.db, group.organiser, memberId)
    expect(back).toMatchObject({ leftOn: null, role: 'helper' })
  })

  test('a link that was passed on lets nobody else in', async () => {
    const group = await makeGroup(database.db)
    const email = anyAddress()
    const { token } = await invited(group, email)
    const stranger = anyAddress()
    const loginId = await loginWith(stranger)
    const result = await accept(loginId, token)
    expect(result).toEqual({
      ok: false,
      refusal: { kind: 'other-address', invited: email, signedIn: stranger },
    })
    expect(await groupsOfLogin(database.db, loginId)).toEqual([])
  })

  test('an unknown, used, revoked or expired invitation says which it is', async () => {
    const group = await makeGroup(database.db)
    const email = anyAddress()
    const loginId = await loginWith(email)
    expect(await accept(loginId, 'no-such-token')).toEqual({
      ok: false,
      refusal: { kind: 'invitation-unknown' },
    })
    expect(await getInvitation(database.db, 'no-such-token')).toBeNull()

    const revoked = await invited(group, email)
    await revokeInvitation(database.db, group.organiser, revoked)
    expect(await accept(loginId, revoked.token)).toEqual({
      ok: false,
      refusal: { kind: 'invitation-revoked', invitedBy: 'Olive Organiser' },
    })

    const late = await invited(group, email)
    now = new Date('2027-02-18T10:00:00.001Z')
    expect((await getInvitation(database.db, late.token))?.state).toBe('expired')
    expect(await accept(loginId, late.token)).toEqual({
      ok: false,
      refusal: { kind: 'invitation-expired', on: '2027-02-18', invitedBy: 'Olive Organiser' },
    })
    expect(await listInvitations(database.db, group.organiser)).toMatchObject([{ state: 'expired' }])
    now = new Date('2027-02-18T09:59:59.999Z')
    expect((await accept(loginId, late.token)).ok).toBe(true)
    now = start
    const thief = await loginWith(anyAddress())
    expect(await accept(thief, late.token)).toEqual({ ok: false, refusal: { kind: 'invitation-used' } })
  })

  test('leaving takes back what invites to the same entry', async () => {
    const group = await makeGroup(database.db)
    const named = await addMember(database.db, group.organiser, {
      key: randomUUID(),
      displayName: 'Came and Went',
      role: 'member',
    })
    const memberId = named.ok ? named.value.memberId : ''
    const { token } = await invited(group, anyAddress(), { memberId })
    await recordDeparture(database.db, group.organiser, { memberId, leftOn: civilDate('2027-02-04') })
    expect((await getInvitation(database.db, token))?.state).toBe('revoked')
  })
})

describe('taking an invitation back', () => {
  test('twice changes nothing; an accepted one is past it', async () => {
    const group = await makeGroup(database.db)
    const first = await invited(group, anyAddress())
    const once = await revokeInvitation(database.db, group.organiser, first)
    expect(await revokeInvitation(database.db, group.organiser, first)).toEqual(once)
    const email = anyAddress()
    const second = await invited(group, email)
    await accept(await loginWith(email), second.token)
    const late = await revokeInvitation(database.db, group.organiser, second)
    expect(late).toEqual({ ok: false, refusal: { kind: 'invitation-accepted' } })
  })

  test('is for organisers of that group', async () => {
    const group = await makeGroup(database.db)
    const other = await makeGroup(database.db)
    const invitation = await invited(group, anyAddress())
    const byHelper = await revokeInvitation(database.db, group.helper, invitation)
    expect(byHelper).toMatchObject({ ok: false, refusal: { kind: 'not-allowed' } })
    const byOther = await revokeInvitation(database.db, other.organiser, invitation)
    expect(byOther).toEqual({ ok: false, refusal: { kind: 'not-found' } })
    expect((await getInvitation(database.db, invitation.token))?.state).toBe('open')
  })
})
