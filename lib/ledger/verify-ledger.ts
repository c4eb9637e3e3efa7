import type pg from 'pg'
import type { Database } from '#lib/platform/database/database.ts'

export interface LedgerFault {
  readonly groupId: string
  readonly fault: string
  /** The key of what is wrong: a lot, an offering, a claim … */
  readonly subject: string
  readonly detail: string
}

/** The views in which every row is something that cannot be true. */
const views = ['ledger_fault', 'entry_fault', 'lineage_fault'] as const

interface FaultRow {
  readonly group_id: string
  readonly fault: string
  readonly subject: string
  readonly detail: string
}

const faultsIn = async (client: pg.ClientBase, groupId: string | null): Promise<FaultRow[]> => {
  const rows: FaultRow[] = []
  for (const view of views) {
    const narrowed = groupId === null ? '' : 'where group_id = $1'
    const found = await client.query<FaultRow>(
      `select group_id, fault, subject, detail from ${view} ${narrowed} order by group_id, fault, subject, detail`,
      groupId === null ? [] : [groupId],
    )
    rows.push(...found.rows)
  }
  return rows
}

/**
 * Everything that is wrong with the ledger and with the lineage of wood, of one group or of all; empty when it is
 * true. All is read as of one moment, so it may be asked while people claim. However many moves there are, it is
 * given the time that it takes.
 */
export async function verifyLedger(db: Database, groupId: string | null = null): Promise<LedgerFault[]> {
  const client = await db.pool.connect()
  try {
    await client.query('begin isolation level repeatable read read only')
    await client.query('set local statement_timeout = 0')
    const rows = await faultsIn(client, groupId)
    await client.query('commit')
    client.release()
    return rows.map(({ group_id, fault, subject, detail }) => ({ groupId: group_id, fault, subject, detail }))
  } catch (error) {
    // The connection may be broken or in the middle of something: it does not go back into the pool.
    client.release(true)
    throw error
  }
}
