import pg from 'pg'
import { type Database, openDatabase } from '#lib/platform/database/database.ts'
import { applyMigrations } from '#lib/platform/migrations/apply-migrations.ts'
import type { TestServer } from '#tests/support/test-server.ts'

/** A migrated database for one measurement. */
export interface BenchDatabase {
  readonly url: string
  readonly db: Database
  /** As the owner of the tables. */
  readonly owner: pg.Client
}

/** Makes a database of its own for `work`, and drops it afterwards. */
export async function withBenchDatabase<T>(
  server: TestServer,
  name: string,
  work: (database: BenchDatabase) => Promise<T>,
): Promise<T> {
  const admin = new pg.Client({ connectionString: server.url })
  await admin.connect()
  const full = `tallywood_bench_${name}_${process.pid}`
  await admin.query(`create database ${full}`)
  const url = new URL(server.url)
  url.pathname = `/${full}`
  try {
    await applyMigrations(url.toString())
    const db = openDatabase(url.toString(), { max: 4 })
    const owner = new pg.Client({ connectionString: url.toString() })
    await owner.connect()
    try {
      return await work({ url: url.toString(), db, owner })
    } finally {
      await db.close()
      await owner.end()
    }
  } finally {
    await admin.query(`drop database ${full} with (force)`)
    await admin.end()
  }
}
