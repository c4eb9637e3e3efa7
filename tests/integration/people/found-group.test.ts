import { beforeAll, describe, expect, test } from 'vitest'
import { foundGroup } from '#lib/people/found-group.ts'
import { testDatabase } from '#tests/support/database.ts'

const database = testDatabase()
const loginId = '0192f0c0-0000-7000-8000-000000000001'
const circle = {
  slug: 'long-row',
  name: 'Long Row',
  timeZone: 'Europe/London',
  organiserEmail: 'olive@example.org',
  organiserName: 'Olive',
}

beforeAll(async () => {
  await database.db.prisma.login.create({
    data: { id: loginId, email: 'olive@example.org', displayName: 'Olive Rowan' },
  })
})

describe('founding a group', () => {
  test('makes the group and its organiser together', async () => {
    const db = { ...database.db, now: () => new Date('2027-06-30T23:30:00Z') }
    const founded = await foundGroup(db, { ...circle, region: 'GB-ENG' })
    if (!founded.ok) throw new Error(founded.refusal.kind)
    const group = await db.prisma.orchardGroup.findUniqueOrThrow({
      where: { id: founded.value.groupId },
      include: { members: true },
    })
    expect(group).toMatchObject({ slug: 'long-row', name: 'Long Row', region: 'GB-ENG', allowsVitis: false })
    expect(group.members).toMatchObject([
      {
        id: founded.value.memberId,
        loginId,
        displayName: 'Olive',
        role: 'organiser',
        email: 'olive@example.org',
      },
    ])
    expect(group.members[0]?.joinedOn).toEqual(new Date('2027-07-01T00:00:00Z'))
    const [entry] = await db.prisma.auditEntry.findMany({ where: { groupId: group.id } })
    expect(entry).toMatchObject({ action: 'found-group', actorId: founded.value.memberId })
  })

  test('refuses an address that another group has, and leaves nothing behind', async () => {
    const { db } = database
    const before = await db.prisma.member.count()
    expect(await foundGroup(db, circle)).toEqual({ ok: false, refusal: { kind: 'slug-taken' } })
    expect(await db.prisma.member.count()).toBe(before)
  })

  test('makes an account for an organiser who has none', async () => {
    const input = {
      ...circle,
      slug: 'short-row',
      organiserEmail: 'rowan@example.org',
      organiserName: 'Rowan',
    }
    const founded = await foundGroup(database.db, input)
    if (!founded.ok) throw new Error(founded.refusal.kind)
    const member = await database.db.prisma.member.findFirstOrThrow({
      where: { groupId: founded.value.groupId, id: founded.value.memberId },
      include: { login: true },
    })
    expect(member.login).toMatchObject({ email: 'rowan@example.org', displayName: 'Rowan' })
  })
})
