import type { Database } from '#lib/platform/database/database.ts'

export interface LedgerFault {
  readonly groupId: string
  readonly fault: string
  readonly subject: string
  readonly detail: string
}

/** Everything that is wrong with the ledger, of one group or of all; empty when it is true. */
export async function verifyLedger(db: Database, groupId: string | null = null): Promise<LedgerFault[]> {
  const { rows } = await db.pool.query<{ group_id: string; fault: string; subject: string; detail: string }>(
    'select group_id, fault, subject, detail from ledger_fault where $1::uuid is null or group_id = $1',
    [groupId],
  )
  return rows.map((row) => ({
    groupId: row.group_id,
    fault: row.fault,
    subject: row.subject,
    detail: row.detail,
  }))
}
