import { randomBytes } from 'node:crypto'
import { cpSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { Client } from 'pg'
import { afterEach, describe, expect, test } from 'vitest'
import { applyMigrations } from '#lib/platform/migrations/apply-migrations.ts'
import { migrationNames, repositoryFolder } from '#lib/platform/migrations/migration-folder.ts'
import { schemaDifference } from '#lib/platform/migrations/schema-difference.ts'
import { testDatabase } from '#tests/support/database.ts'

const database = testDatabase()

async function ask<Row extends object>(sql: string): Promise<Row[]> {
  const client = new Client({ connectionString: database.url })
  await client.connect()
  try {
    return (await client.query<Row>(sql)).rows
  } finally {
    await client.end()
  }
}

const made: string[] = []

/** A copy of the repository's migrations with one more behind them. */
function folderWithExtra(name: string, sql: string): { path: string } {
  const path = mkdtempSync(join(tmpdir(), 'tallywood-migrations-'))
  made.push(path)
  cpSync(repositoryFolder().path, path, { recursive: true })
  const folder = join(path, 'migrations', name)
  mkdirSync(folder)
  writeFileSync(join(folder, 'migration.sql'), sql)
  return { path }
}

afterEach(() => {
  for (const path of made.splice(0)) rmSync(path, { recursive: true, force: true })
})

describe('migrations', () => {
  test('have all been applied and recorded under their names', async () => {
    const rows = await ask<{ migration_name: string }>(
      'select migration_name from _prisma_migrations where finished_at is not null order by migration_name',
    )
    expect(rows.map((row) => row.migration_name)).toEqual(migrationNames())
    expect(rows.length).toBeGreaterThan(0)
  })

  test('applied a second time change nothing', async () => {
    expect(await applyMigrations(database.url)).toEqual([])
  })

  test('lead to what the schema files describe', async () => {
    expect(await schemaDifference(database.url)).toBeNull()
  })

  test('which lead elsewhere are noticed', async () => {
    await ask('alter table login add column shoe_size integer')
    expect(await schemaDifference(database.url)).toContain('DROP COLUMN "shoe_size"')
    await ask('alter table login drop column shoe_size')
  })

  test('with function bodies are sent whole, by two starters at once, and run once', async () => {
    const folder = folderWithExtra(
      '29990101000000_body',
      `create table counted (n integer); insert into counted values (1);
       create function twice(n integer) returns integer language plpgsql as $$ begin n := n + n; return n; end $$;`,
    )
    const both = await Promise.all([
      applyMigrations(database.url, folder),
      applyMigrations(database.url, folder),
    ])
    expect(both.flat()).toEqual(['29990101000000_body'])
    expect(await ask('select twice(n) as doubled from counted')).toEqual([{ doubled: 2 }])
  })

  test('of a newer copy of the program are refused by an older one', async () => {
    await expect(applyMigrations(database.url)).rejects.toThrow(/29990101000000_body.*newer/)
    await ask(
      `drop function twice; drop table counted;
       delete from _prisma_migrations where migration_name = '29990101000000_body'`,
    )
  })

  test('that fail leave nothing behind, and go through once they are mended', async () => {
    const name = '29990102000000_mended'
    const broken = folderWithExtra(name, 'create table half_way (n integer); insert into nowhere values (1);')
    await expect(applyMigrations(database.url, broken)).rejects.toThrow(/nowhere/)
    expect(await ask(`select to_regclass('half_way') as found`)).toEqual([{ found: null }])
    const whole = folderWithExtra(name, 'create table half_way (n integer);')
    expect(await applyMigrations(database.url, whole)).toEqual([name])
    await ask(`drop table half_way; delete from _prisma_migrations where migration_name = '${name}'`)
  })

  test('that were edited after they had been applied are refused', async () => {
    const [first] = migrationNames()
    await ask(`update _prisma_migrations set checksum = reverse(checksum) where migration_name = '${first}'`)
    await expect(applyMigrations(database.url)).rejects.toThrow(/other versions of .*_/)
    await ask(`update _prisma_migrations set checksum = reverse(checksum) where migration_name = '${first}'`)
    expect(await applyMigrations(database.url)).toEqual([])
  })
})

describe('the application’s role', () => {
  test('cannot sign in by itself, owns nothing, and is what the pool works as', async () => {
    expect(await ask(`select rolcanlogin, rolsuper from pg_roles where rolname = 'tallywood_app'`)).toEqual([
      { rolcanlogin: false, rolsuper: false },
    ])
    const owned = await ask(`select relname from pg_class where pg_get_userbyid(relowner) = 'tallywood_app'`)
    expect(owned).toEqual([])
    const { rows } = await database.db.pool.query('select current_user as role')
    expect(rows).toEqual([{ role: 'tallywood_app' }])
  })

  test('asks for an administrator where the user may not make it', async () => {
    const name = `weak_${randomBytes(4).toString('hex')}`
    await ask(`create role ${name} login password 'weak'`)
    const url = new URL(database.url)
    url.username = name
    url.password = 'weak'
    try {
      await expect(applyMigrations(url.toString())).rejects.toThrow(`grant tallywood_app to ${name}`)
    } finally {
      await ask(`drop role ${name}`)
    }
  })
})
