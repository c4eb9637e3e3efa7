import { randomUUID } from 'node:crypto'
import { beforeAll, describe, expect, test } from 'vitest'
import { civilDate } from '#lib/kernel/civil-date.ts'
import { addMember } from '#lib/people/add-member.ts'
import { changeRole } from '#lib/people/change-role.ts'
import { chooseUnits } from '#lib/people/choose-units.ts'
import { editGroup } from '#lib/people/edit-group.ts'
import { editMember } from '#lib/people/edit-member.ts'
import { EditGroupInput } from '#lib/people/input.ts'
import { getMember, groupsOfLogin, listMembers, memberChoices } from '#lib/people/queries.ts'
import { readLog } from '#lib/people/read-log.ts'
import { recordDeparture } from '#lib/people/record-departure.ts'
import { recordReturn } from '#lib/people/record-return.ts'
import { peopleRefusalWords } from '#lib/people/refusal-words.ts'
import { makeGroup, type TestGroup } from '#tests/support/actors.ts'
import { testDatabase } from '#tests/support/database.ts'

const database = testDatabase({ now: () => new Date('2027-02-04T10:00:00Z') })
const today = civilDate('2027-02-04')

let group: TestGroup
let elsewhere: TestGroup

beforeAll(async () => {
  group = await makeGroup(database.db)
  elsewhere = await makeGroup(database.db, 'Another Circle')
})

const person = (displayName: string, more: object = {}) => ({
  key: randomUUID(),
  displayName,
  role: 'member' as const,
  ...more,
})

async function added(displayName: string, more: object = {}): Promise<string> {
  const result = await addMember(database.db, group.organiser, person(displayName, more))
  if (!result.ok) throw new Error(result.refusal.kind)
  return result.value.memberId
}

describe('adding a person without an account', () => {
  test('a helper adds one, who can then be named in forms', async () => {
    const result = await addMember(
      database.db,
      group.helper,
      person('Odette Marlow', { phone: '01632 960 001' }),
    )
    expect(result.ok).toBe(true)
    const choices = await memberChoices(database.db, group.member)
    expect(choices).toContainEqual({
      id: result.ok ? result.value.memberId : '',
      name: 'Odette Marlow',
      hasAccount: false,
    })
  })

  test('the second click adds nobody', async () => {
    const input = person('Twice Clicked')
    const first = await addMember(database.db, group.helper, input)
    const second = await addMember(database.db, group.helper, input)
    expect(second).toEqual(first)
    const found = await listMembers(database.db, group.helper, { search: 'twice' })
    expect(found).toHaveLength(1)
  })

  test('the same key with another name is refused', async () => {
    const input = person('First Name')
    await addMember(database.db, group.helper, input)
    const second = await addMember(database.db, group.helper, { ...input, displayName: 'Other Name' })
    expect(second).toEqual({ ok: false, refusal: { kind: 'key-reused' } })
  })

  test('a member may not', async () => {
    const result = await addMember(database.db, group.member, person('Nobody'))
    expect(result).toMatchObject({ ok: false, refusal: { kind: 'not-allowed' } })
  })

  test('a helper may add members only, an organiser any role', async () => {
    const byHelper = await addMember(database.db, group.helper, person('Would-be', { role: 'steward' }))
    expect(byHelper).toMatchObject({ ok: false, refusal: { kind: 'not-allowed', right: 'change-roles' } })
    const byOrganiser = await addMember(database.db, group.organiser, person('Real', { role: 'helper' }))
    expect(byOrganiser.ok).toBe(true)
  })
})

describe('contact details', () => {
  const contact = { phone: '01632 960 002', email: 'private@example.org' }

  test('are seen by organiser and steward, and by nobody else', async () => {
    const id = await added('Private Person', { ...contact, note: 'Prefers to be rung' })
    const seenBy = async (actor: typeof group.member) => (await getMember(database.db, actor, id))?.contact
    expect(await seenBy(group.organiser)).toEqual(contact)
    expect(await seenBy(group.steward)).toEqual(contact)
    expect(await seenBy(group.helper)).toBeNull()
    expect(await seenBy(group.member)).toBeNull()
    expect((await getMember(database.db, group.member, id))?.note).toBeNull()
    expect((await getMember(database.db, group.member, id))?.standing).toBeNull()
    const inList = await listMembers(database.db, group.member, { search: 'private person' })
    expect(inList.map((row) => row.contact)).toEqual([null])
  })

  test('are seen and changed by the person', async () => {
    const { memberId } = group.member
    const changed = await editMember(database.db, group.member, {
      memberId,
      displayName: 'Mabel Member',
      phone: '01632 960 003',
    })
    expect(changed.ok).toBe(true)
    expect(await getMember(database.db, group.member, memberId)).toMatchObject({
      isSelf: true,
      contact: { phone: '01632 960 003', email: null },
    })
  })

  test('are not changed by another member', async () => {
    const input = { memberId: group.otherMember.memberId, displayName: 'Renamed' }
    const result = await editMember(database.db, group.member, input)
    expect(result).toMatchObject({ ok: false, refusal: { kind: 'not-allowed', right: 'see-contacts' } })
  })
})

describe('another group', () => {
  test('sees nothing of a person and changes nothing', async () => {
    const memberId = group.otherMember.memberId
    expect(await getMember(database.db, elsewhere.organiser, memberId)).toBeNull()
    const everybody = await listMembers(database.db, elsewhere.organiser)
    expect(everybody.map((row) => row.id)).not.toContain(memberId)
    for (const result of [
      await editMember(database.db, elsewhere.organiser, { memberId, displayName: 'Taken' }),
      await changeRole(database.db, elsewhere.organiser, { memberId, role: 'organiser' }),
      await recordDeparture(database.db, elsewhere.organiser, { memberId, leftOn: today }),
      await recordReturn(database.db, elsewhere.organiser, { memberId }),
    ]) {
      expect(result).toEqual({ ok: false, refusal: { kind: 'not-found' } })
    }
    expect((await getMember(database.db, group.organiser, memberId))?.name).toBe('Otto Other')
  })
})

describe('roles', () => {
  test('are changed by an organiser only, and both roles go into the log', async () => {
    const memberId = await added('Rising Star')
    const refused = await changeRole(database.db, group.steward, { memberId, role: 'helper' })
    expect(refused).toMatchObject({ ok: false, refusal: { kind: 'not-allowed' } })
    const done = await changeRole(database.db, group.organiser, { memberId, role: 'helper' })
    expect(done.ok).toBe(true)
    const entry = await database.db.prisma.auditEntry.findFirst({
      where: { groupId: group.groupId, subject: `member:${memberId}`, action: 'change-role' },
    })
    expect(entry?.detail).toEqual({ from: 'member', to: 'helper' })
    const log = await readLog(database.db, group.steward)
    expect(log?.entries.find(({ id }) => id === entry?.id)?.detail).toBe('from member to helper')
  })

  test('the last organiser keeps the role and stays, even when another has no account', async () => {
    const lone = await makeGroup(database.db)
    const { memberId } = lone.organiser
    const named = await addMember(
      database.db,
      lone.organiser,
      person('Paper Organiser', { role: 'organiser' }),
    )
    expect(named.ok).toBe(true)
    const lowered = await changeRole(database.db, lone.organiser, { memberId, role: 'member' })
    expect(lowered).toEqual({ ok: false, refusal: { kind: 'last-organiser' } })
    const left = await recordDeparture(database.db, lone.organiser, { memberId, leftOn: today })
    expect(left).toEqual({ ok: false, refusal: { kind: 'last-organiser' } })
  })

  test('two organisers who step down at the same moment leave one behind', async () => {
    const pair = await makeGroup(database.db)
    const raised = await changeRole(database.db, pair.organiser, {
      memberId: pair.steward.memberId,
      role: 'organiser',
    })
    expect(raised.ok).toBe(true)
    const results = await Promise.all(
      [pair.organiser, pair.steward].map(({ memberId }) =>
        changeRole(database.db, { ...pair.organiser, memberId }, { memberId, role: 'member' }),
      ),
    )
    expect(results.map((result) => result.ok).sort()).toEqual([false, true])
    const organisers = await database.db.prisma.member.count({
      where: { groupId: pair.groupId, role: 'organiser' },
    })
    expect(organisers).toBe(1)
  })
})

describe('leaving', () => {
  test('a member leaves by themselves, closes the group to their login and is offered in no form', async () => {
    const leaving = await makeGroup(database.db)
    const { memberId } = leaving.member
    const { loginId } = await database.db.prisma.member.findFirstOrThrow({ where: { id: memberId } })
    const before = await groupsOfLogin(database.db, loginId ?? '')
    expect(before).toEqual([{ slug: leaving.slug, name: 'Test Circle', role: 'member' }])
    const left = await recordDeparture(database.db, leaving.member, { memberId, leftOn: today })
    expect(left.ok).toBe(true)
    expect(await groupsOfLogin(database.db, loginId ?? '')).toEqual([])
    const choices = await memberChoices(database.db, leaving.organiser)
    expect(choices.map(({ id }) => id)).not.toContain(memberId)
    const again = await recordDeparture(database.db, leaving.organiser, { memberId, leftOn: today })
    expect(again).toMatchObject({ ok: false, refusal: { kind: 'has-left', leftOn: today } })
    const role = await changeRole(database.db, leaving.organiser, { memberId, role: 'helper' })
    expect(role).toMatchObject({ ok: false, refusal: { kind: 'has-left' } })
    expect((await recordReturn(database.db, leaving.organiser, { memberId })).ok).toBe(true)
    expect(await groupsOfLogin(database.db, loginId ?? '')).toHaveLength(1)
  })

  test('is refused for others without the right, ahead of time, and before joining', async () => {
    const memberId = group.otherMember.memberId
    const byHelper = await recordDeparture(database.db, group.helper, { memberId, leftOn: today })
    expect(byHelper).toMatchObject({ ok: false, refusal: { kind: 'not-allowed' } })
    const ahead = await recordDeparture(database.db, group.organiser, {
      memberId,
      leftOn: civilDate('2027-02-05'),
    })
    expect(ahead).toEqual({ ok: false, refusal: { kind: 'day-ahead', today } })
    const early = await recordDeparture(database.db, group.organiser, {
      memberId,
      leftOn: civilDate('2019-12-31'),
    })
    expect(early).toEqual({ ok: false, refusal: { kind: 'left-before-joining', joinedOn: '2020-01-01' } })
    const here = await recordReturn(database.db, group.organiser, { memberId })
    expect(here).toEqual({ ok: false, refusal: { kind: 'is-here', name: 'Otto Other' } })
    const byMember = await recordReturn(database.db, group.member, { memberId })
    expect(byMember).toMatchObject({ ok: false, refusal: { kind: 'not-allowed' } })
  })
})

test('a search for a person takes no notice of accents', async () => {
  await added('Zoë Péridot')
  const found = await listMembers(database.db, group.member, { search: 'zoe peri' })
  expect(found.map((row) => row.name)).toEqual(['Zoë Péridot'])
})

describe('the group’s settings', () => {
  const settings = { name: 'Renamed Circle', region: 'GB-ENG', timeZone: 'Europe/Paris', allowsVitis: true }

  test('are changed by an organiser, and by nobody else', async () => {
    const own = await makeGroup(database.db)
    for (const actor of [own.steward, own.helper, own.member]) {
      const refused = await editGroup(database.db, actor, settings)
      expect(refused).toMatchObject({
        ok: false,
        refusal: { right: 'change-settings', roles: ['organiser'] },
      })
    }
    expect((await editGroup(database.db, own.organiser, settings)).ok).toBe(true)
    const stored = await database.db.prisma.orchardGroup.findUniqueOrThrow({ where: { id: own.groupId } })
    expect(stored).toMatchObject(settings)
    const other = await database.db.prisma.orchardGroup.findUniqueOrThrow({ where: { id: group.groupId } })
    expect(other.name).toBe('Test Circle')
  })

  test.each([
    ['region', 'England', 'A region code looks like GB-ENG, FR-BRE or US-WA'],
    ['timeZone', 'Europe/Marrow', 'Choose a time zone of the list, such as Europe/London'],
    ['name', ' ', 'Enter the group’s name'],
  ])('a wrong %s is refused at its field', (field, value, message) => {
    const parsed = EditGroupInput.safeParse({ ...settings, [field]: value })
    expect(parsed.error?.issues.map((issue) => [issue.path.join('.'), issue.message])).toEqual([
      [field, message],
    ])
  })

  test('a region in small letters is taken, an empty one is none', () => {
    expect(EditGroupInput.parse({ ...settings, region: ' gb-sct ' }).region).toBe('GB-SCT')
    expect(EditGroupInput.parse({ ...settings, region: '' }).region).toBeUndefined()
  })
})

describe('a person’s units', () => {
  test('go with the login', async () => {
    const result = await chooseUnits(database.db, group.member, { temperature: 'F', length: 'in' })
    expect(result.ok).toBe(true)
    const logins = await database.db.prisma.login.findMany({
      where: { members: { some: { groupId: group.groupId } }, fahrenheit: true, inches: true },
      include: { members: true },
    })
    expect(logins.map((login) => login.members[0]?.id)).toEqual([group.member.memberId])
  })

  test('need an account', async () => {
    const memberId = await added('No Account')
    const result = await chooseUnits(
      database.db,
      { ...group.member, memberId },
      { temperature: 'C', length: 'cm' },
    )
    expect(result).toEqual({ ok: false, refusal: { kind: 'no-account' } })
  })
})

describe('the log', () => {
  test('is read by organiser and steward, the newest first, a page at a time', async () => {
    const own = await makeGroup(database.db)
    const ids: string[] = []
    for (const name of ['One', 'Two', 'Three']) {
      const result = await addMember(database.db, own.organiser, person(name))
      if (result.ok) ids.unshift(result.value.memberId)
    }
    const first = await readLog(database.db, own.steward, { limit: 2 })
    expect(first?.entries.map((entry) => [entry.who, entry.action, entry.subjectName])).toEqual([
      ['Olive Organiser', 'add-member', 'Three'],
      ['Olive Organiser', 'add-member', 'Two'],
    ])
    const second = await readLog(database.db, own.organiser, { limit: 2, before: first?.olderThan ?? '' })
    expect(second?.entries.map((entry) => entry.subject)).toEqual([`member:${ids[2]}`])
    expect(second?.olderThan).toBeNull()
    expect(await readLog(database.db, own.helper)).toBeNull()
    expect(await readLog(database.db, own.member)).toBeNull()
    expect((await readLog(database.db, elsewhere.organiser))?.entries).toEqual([])
  })
})

test('every refusal says what happened and what to do next', () => {
  const words = peopleRefusalWords({ kind: 'last-organiser' })
  expect(words.message).toMatch(/only organiser/)
  expect(words.next).toEqual(['Make somebody else an organiser first.'])
  const role = peopleRefusalWords({ kind: 'not-allowed', right: 'change-roles', roles: ['organiser'] })
  expect(role.message).toMatch(/It takes organiser/)
})
