import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { startEmbeddedServer } from '#lib/platform/embedded/embedded-server.ts'
import { applyMigrations } from '#lib/platform/migrations/apply-migrations.ts'
import { repositoryFolder } from '#lib/platform/migrations/migration-folder.ts'
import { schemaDifference } from '#lib/platform/migrations/schema-difference.ts'
import { onShutdown, shutDown, stopOnSignals } from './shutdown.ts'
import { reportAndExit, Stop, step } from './steps.mjs'

/** The SQL that the schema files need on top of the migrations so far; null when they need none. */
async function findDifference(): Promise<string | null> {
  const home = mkdtempSync(join(tmpdir(), 'tallywood-migration-'))
  onShutdown(() => rmSync(home, { recursive: true, force: true }))
  const server = await startEmbeddedServer({
    folder: join(home, 'postgres'),
    password: 'only for a moment',
    durable: false,
  })
  onShutdown(server.stop)
  const url = server.url('postgres')
  await applyMigrations(url)
  return schemaDifference(url)
}

function writeMigration(name: string, sql: string): string {
  const stamp = new Date().toISOString().replace(/\D/g, '').slice(0, 14)
  const folder = join(repositoryFolder().path, 'migrations', `${stamp}_${name}`)
  mkdirSync(folder)
  const file = join(folder, 'migration.sql')
  writeFileSync(file, sql)
  return file
}

stopOnSignals(() => 130)
try {
  const name = process.argv[2] ?? ''
  if (!/^[a-z][a-z0-9_]*$/.test(name)) {
    throw new Stop(
      'Give the migration a name of small letters and underscores: npm run db:new-migration add_budding_dates',
    )
  }
  const sql = await step('Comparing the schema files with the migrations', findDifference)
  await shutDown()
  console.log(
    sql === null
      ? '  The migrations already lead to the schema. What Prisma cannot describe (checks, triggers, functions) is written by hand.'
      : `  Written: ${writeMigration(name, sql)}\n  Read it before you use it.`,
  )
} catch (error) {
  await shutDown()
  reportAndExit(error)
}
