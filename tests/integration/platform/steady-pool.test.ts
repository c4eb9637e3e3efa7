import { Client } from 'pg'
import { expect, test } from 'vitest'
import { databaseErrorOf } from '#lib/platform/database/errors.ts'
import { openSteadyPool } from '#lib/platform/database/steady-pool.ts'
import { testDatabase } from '#tests/support/database.ts'

const database = testDatabase()

const backendOf = async (pool: ReturnType<typeof openSteadyPool>): Promise<number> => {
  const { rows } = await pool.query<{ pid: number }>('select pg_backend_pid() as pid')
  return rows[0]?.pid ?? 0
}

test('a refused statement costs no connection', async () => {
  const pool = openSteadyPool({ connectionString: database.url, max: 1 })
  const before = await backendOf(pool)
  const refused = await pool.query('select 1 / $1::int', [0]).catch((error: unknown) => error)
  expect(databaseErrorOf(refused)).toMatchObject({ sqlstate: '22012' })
  expect(await backendOf(pool)).toBe(before)
  await pool.end()
})

test('a connection that the server ended is replaced', async () => {
  const pool = openSteadyPool({ connectionString: database.url, max: 1 })
  const before = await backendOf(pool)
  const other = new Client({ connectionString: database.url })
  await other.connect()
  const sleeping = pool.query('select pg_sleep(30)').catch((error: unknown) => error)
  await expect
    .poll(() =>
      other
        .query(`select from pg_stat_activity where pid = $1 and state = 'active'`, [before])
        .then((r) => r.rowCount),
    )
    .toBe(1)
  await other.query('select pg_terminate_backend($1)', [before])
  expect(await sleeping).toBeInstanceOf(Error)
  expect(await backendOf(pool)).not.toBe(before)
  await other.end()
  await pool.end()
})
