import type { QueryConfig, QueryResultRow } from 'pg'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import { type LedgerRefusal, ledgerRefusalOf } from '#lib/ledger/refusals.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { databaseErrorOf } from '#lib/platform/database/errors.ts'

const tries = 3

/** One prepared statement on the shared pool: one round trip, and a typed refusal when the ledger says no. */
export async function askLedger<Row extends QueryResultRow>(
  db: Database,
  statement: QueryConfig,
): Promise<Result<Row, LedgerRefusal>> {
  for (let attempt = 1; ; attempt++) {
    try {
      const { rows } = await db.pool.query<Row>(statement)
      const row = rows[0]
      if (!row) throw new Error(`The ledger gave no answer to ${statement.name}`)
      return ok(row)
    } catch (error) {
      if (attempt < tries && databaseErrorOf(error)?.retryable) continue
      const refusal = ledgerRefusalOf(error)
      if (refusal) return refuse(refusal)
      throw error
    }
  }
}
