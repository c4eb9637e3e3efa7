import type { ImportContext, KeyedEntry, Written } from '#lib/formats/csv/import-file.ts'
import type { RowFault } from '#lib/formats/csv/row-reader.ts'
import type { Result } from '#lib/kernel/result.ts'
import type { RefusalWords } from '#lib/ledger/refusal-words.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { joinTransaction } from '#lib/platform/database/join-transaction.ts'

/** How one entry is written by the command that a form would use. The entry's key is the command's key. */
export interface ByCommand<Value, Answer, Refusal> {
  run(db: Database, entry: KeyedEntry<Value>): Promise<Result<Answer, Refusal>>
  words(refusal: Refusal): RefusalWords
  /** A sentence about what was written, or nothing. */
  remark(value: Value, answer: Answer): string | null
}

/** Writes entries one by one, each taken back by itself when its command refuses it. */
export async function writeByCommand<Value, Answer, Refusal>(
  { tx, db }: ImportContext,
  entries: readonly KeyedEntry<Value>[],
  by: ByCommand<Value, Answer, Refusal>,
): Promise<Written> {
  const joined = joinTransaction(db, tx)
  const faults: RowFault[] = []
  const remarks: string[] = []
  let written = 0
  for (const entry of entries) {
    await tx.$executeRaw`savepoint import_entry`
    const result = await by.run(joined, entry)
    if (result.ok) {
      await tx.$executeRaw`release savepoint import_entry`
      written++
      const remark = by.remark(entry.value, result.value)
      if (remark !== null) remarks.push(remark)
    } else {
      await tx.$executeRaw`rollback to savepoint import_entry`
      const { message } = by.words(result.refusal)
      faults.push(...entry.lines.map((line) => ({ line, column: null, why: `was refused: ${message}` })))
    }
  }
  return { written, faults, remarks }
}
