import { Client } from 'pg'
import { afterAll, beforeAll } from 'vitest'
import { applicationRole } from '#lib/platform/migrations/application-role.ts'
import type { TestDatabase } from '#tests/support/database.ts'

/** What became of a statement that nobody ought to get through. */
export interface Attack {
  /** The SQLSTATE that refused it, or "accepted". */
  readonly state: string
  readonly constraint: string | null
  readonly message: string
}

/** A statement, with or without values for its `$1` and so on. */
export type Statement = string | readonly [sql: string, values?: readonly unknown[]]

/** A connection that speaks SQL past all our code. */
export interface RawSql {
  /** Runs statements one after another in a transaction that is rolled back, and says what the last one met. */
  attack(...statements: readonly Statement[]): Promise<Attack>
  query<Row>(sql: string, values?: readonly unknown[]): Promise<Row[]>
}

function speak(client: () => Client): RawSql {
  return {
    async attack(...statements) {
      const connection = client()
      await connection.query('begin')
      try {
        for (const statement of statements) {
          const [sql, values = []] = typeof statement === 'string' ? [statement] : statement
          await connection.query(sql, [...values])
        }
        // Deferred constraints would speak at the end only.
        await connection.query('set constraints all immediate')
        return { state: 'accepted', constraint: null, message: '' }
      } catch (error) {
        const refused = error as { code?: string; constraint?: string; message: string }
        if (refused.code === undefined) throw error
        return { state: refused.code, constraint: refused.constraint ?? null, message: refused.message }
      } finally {
        await connection.query('rollback')
      }
    },
    async query<Row>(sql: string, values: readonly unknown[] = []) {
      const { rows } = await client().query(sql, [...values])
      return rows as Row[]
    },
  }
}

/** Two raw connections to a test file's database: as the owner of the tables, and as the application's role. */
export function rawSqlAs(database: TestDatabase): { readonly owner: RawSql; readonly application: RawSql } {
  const connect = (options?: string) => {
    let client: Client | null = null
    beforeAll(async () => {
      client = new Client({ connectionString: database.url, ...(options ? { options } : {}) })
      await client.connect()
    })
    afterAll(() => client?.end())
    return speak(() => {
      if (!client) throw new Error('Raw SQL is there inside tests and hooks only')
      return client
    })
  }
  return { owner: connect(), application: connect(`-c role=${applicationRole}`) }
}
