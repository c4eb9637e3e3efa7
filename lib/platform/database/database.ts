import { randomBytes } from 'node:crypto'
import { PrismaPg } from '@prisma/adapter-pg'
import type pg from 'pg'
import type { Clock } from '#lib/kernel/clock.ts'
import { uuidV7 } from '#lib/kernel/id.ts'
import { openSteadyPool } from '#lib/platform/database/steady-pool.ts'
import { type Prisma, PrismaClient } from '#lib/platform/generated/client.ts'
import { applicationRole } from '#lib/platform/migrations/application-role.ts'

/** Prisma, in or out of a transaction. */
export type Queries = Prisma.TransactionClient

/** The handle that queries and commands take first. */
export interface Database {
  /** Prisma for everything but the ledger's hot path. */
  readonly prisma: PrismaClient
  /** The same pool, for the ledger's prepared statements. */
  readonly pool: pg.Pool
  /** The present instant: the only clock below this line. */
  readonly now: Clock
  /** A new key, sorted by time. */
  readonly newId: () => string
  close(): Promise<void>
}

export interface DatabaseOptions {
  /** Connections in the pool. */
  readonly max?: number
  readonly now?: Clock
}

/** Opens a pool as the application's role. Nothing connects until the first query. */
export function openDatabase(url: string, options: DatabaseOptions = {}): Database {
  const now = options.now ?? (() => new Date())
  const pool = openSteadyPool({
    connectionString: url,
    max: options.max ?? 10,
    connectionTimeoutMillis: 10_000,
    idleTimeoutMillis: 30_000,
    statement_timeout: 30_000,
    application_name: 'tallywood',
    options: `-c role=${applicationRole} -c timezone=UTC`,
  })
  pool.on('error', () => {
    // An idle connection that the server closed is replaced by the pool; the next query says if the server is gone.
  })
  const prisma = new PrismaClient({
    adapter: new PrismaPg(pool, { disposeExternalPool: false }),
    transactionOptions: { maxWait: 10_000, timeout: 30_000 },
  })
  return {
    prisma,
    pool,
    now,
    newId: () => uuidV7(Date.now(), randomBytes(10)),
    async close() {
      await prisma.$disconnect()
      await pool.end()
    },
  }
}
