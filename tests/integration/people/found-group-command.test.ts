import { Client } from 'pg'
import { describe, expect, test } from 'vitest'
import { useSignInLink } from '#lib/access/sign-in-link.ts'
import { testDatabase } from '#tests/support/database.ts'
import { foundGroupCommand } from '../../../scripts/found-group.ts'

const database = testDatabase()
const longRow = {
  slug: 'long-row',
  name: 'Long Row Orchards',
  timeZone: 'Europe/London',
  organiserEmail: 'olive@example.org',
  organiserName: 'Olive',
}
const address = 'https://wood.example.org'

describe('npm run found-group', () => {
  test('founds a group whose organiser signs in with the printed link, once', async () => {
    const lines = await foundGroupCommand(database.db, longRow, address)
    expect(lines[0]).toContain('https://wood.example.org/g/long-row')
    const link = lines.find((line) => line.startsWith(`${address}/sign-in/link?`))
    const token = new URL(String(link)).searchParams.get('token') ?? ''
    const signedIn = await useSignInLink(database.db, token)
    if (!signedIn.ok) throw new Error(signedIn.refusal.kind)
    const member = await database.db.prisma.member.findFirstOrThrow({
      where: { loginId: signedIn.value.loginId },
      include: { group: true },
    })
    expect(member).toMatchObject({ role: 'organiser', group: { slug: 'long-row' } })
    expect(await useSignInLink(database.db, token)).toMatchObject({ ok: false })
  })

  test('says which address is taken, and founds nothing', async () => {
    const again = { ...longRow, name: 'Another Row', organiserEmail: 'rowan@example.org' }
    await expect(foundGroupCommand(database.db, again, address)).rejects.toThrow('/g/long-row')
    expect(await database.db.prisma.login.count({ where: { email: 'rowan@example.org' } })).toBe(0)
  })

  test('founds nothing in a demo world', async () => {
    const owner = new Client({ connectionString: database.url })
    await owner.connect()
    await owner.query('insert into installation (id, is_demo) values (1, true)')
    await owner.end()
    const input = { ...longRow, slug: 'short-row' }
    await expect(foundGroupCommand(database.db, input, address)).rejects.toThrow('demo world')
    expect(await database.db.prisma.orchardGroup.count({ where: { slug: 'short-row' } })).toBe(0)
  })
})
