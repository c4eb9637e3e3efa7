import { Client } from 'pg'
import { describe, expect, test } from 'vitest'
import { readInstallation } from '#lib/platform/database/installation.ts'
import { testDatabase } from '#tests/support/database.ts'
import { type Fill, prepareDatabase } from '../../../scripts/start/prepare-database.ts'

const database = testDatabase()
const quietly = () => {}

const smallDemo: Fill = async (db) => {
  await db.prisma.orchardGroup.create({
    data: { id: db.newId(), slug: 'whole', name: 'A whole world', timeZone: 'UTC' },
  })
}

async function run(sql: string): Promise<void> {
  const client = new Client({ connectionString: database.url })
  await client.connect()
  try {
    await client.query(sql)
  } finally {
    await client.end()
  }
}

const countGroups = async () => (await database.db.pool.query('select from orchard_group')).rowCount

describe('preparing a database', () => {
  test('without the demo leaves an empty one empty', async () => {
    const answer = await prepareDatabase(database.url, { demo: null, onProgress: quietly })
    expect(answer).toEqual({ migrations: [], isFilledNow: false })
    expect(await countGroups()).toBe(0)
    expect(await readInstallation(database.db.pool)).toEqual({ isDemo: false })
  })

  test('refuses to hand over a database whose demo broke off, unless the demo is wanted', async () => {
    await run(
      `create schema tallywood_unfinished_demo;
       insert into orchard_group (id, slug, name, time_zone) values (gen_random_uuid(), 'half', 'Half a world', 'UTC')`,
    )
    await expect(prepareDatabase(database.url, { demo: null, onProgress: quietly })).rejects.toThrow(
      /broke off/,
    )
  })

  test('clears a demo that broke off and makes it again from the start', async () => {
    const answer = await prepareDatabase(database.url, { demo: smallDemo, onProgress: quietly })
    expect(answer.isFilledNow).toBe(true)
    const { rows } = await database.db.pool.query(`select from orchard_group where slug = 'half'`)
    expect(rows).toEqual([])
    expect(await countGroups()).toBe(1)
    expect(await readInstallation(database.db.pool)).toEqual({ isDemo: true })
  })

  test('leaves a filled one as it is', async () => {
    const before = await countGroups()
    expect(await prepareDatabase(database.url, { demo: smallDemo, onProgress: quietly })).toEqual({
      migrations: [],
      isFilledNow: false,
    })
    expect(await countGroups()).toBe(before)
  })
})
