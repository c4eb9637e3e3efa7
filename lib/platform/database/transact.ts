import type { Result } from '#lib/kernel/result.ts'
import type { Database, Queries } from '#lib/platform/database/database.ts'
import { databaseErrorOf } from '#lib/platform/database/errors.ts'

const attempts = 3

/** Rolls a transaction back with a refusal as its answer. */
class Refused<Refusal> extends Error {
  constructor(readonly refusal: Refusal) {
    super('refused')
  }
}

/**
 * Runs one command in one transaction. A refusal returned by `work` rolls everything back and is returned;
 * a serialization failure or a deadlock is tried again, at most three times in all.
 *
 * @param refusalOf says which errors of the database are refusals of this command; the rest is thrown on.
 */
export async function transact<Value, Refusal>(
  db: Database,
  work: (tx: Queries) => Promise<Result<Value, Refusal>>,
  refusalOf: (error: unknown) => Refusal | null = () => null,
): Promise<Result<Value, Refusal>> {
  for (let attempt = 1; ; attempt++) {
    try {
      return await db.prisma.$transaction(async (tx) => {
        const result = await work(tx)
        if (!result.ok) throw new Refused(result.refusal)
        return result
      })
    } catch (error) {
      if (error instanceof Refused) return { ok: false, refusal: error.refusal as Refusal }
      if (attempt < attempts && databaseErrorOf(error)?.retryable) continue
      const refusal = refusalOf(error)
      if (refusal !== null) return { ok: false, refusal }
      throw error
    }
  }
}
