import { createHash } from 'node:crypto'
import { type Result, refuse } from '#lib/kernel/result.ts'
import type { Queries } from '#lib/platform/database/database.ts'

/** The refusal of a key that came back with other entries than the first time. */
export interface KeyReused {
  readonly kind: 'key-reused'
}

/** SHA-256 of a command's input, whatever the order of its properties. */
export function inputHash(input: unknown): string {
  const canonical = JSON.stringify(input, (_key, value: unknown) =>
    typeof value === 'object' && value !== null && !Array.isArray(value) && !(value instanceof Date)
      ? Object.fromEntries(Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1)))
      : value,
  )
  return createHash('sha256').update(canonical).digest('hex')
}

/**
 * One key, one effect: runs `work` the first time a key is seen and answers the same again ever after.
 * The answer is kept as JSON, so it must consist of strings, numbers, booleans, arrays and plain objects.
 */
export async function once<Answer, Refusal>(
  tx: Queries,
  groupId: string,
  key: string,
  command: string,
  input: unknown,
  work: () => Promise<Result<Answer, Refusal>>,
): Promise<Result<Answer, Refusal | KeyReused>> {
  const hash = inputHash(input)
  // The same key sent twice at once waits here, so that the second finds the first one's answer.
  await tx.$executeRaw`select pg_advisory_xact_lock(hashtextextended(${`${groupId}:${key}`}, 0))`
  const seen = await tx.idempotencyKey.findUnique({ where: { groupId_key: { groupId, key } } })
  if (seen) {
    if (seen.inputHash !== hash || seen.command !== command) return refuse({ kind: 'key-reused' })
    return { ok: true, value: seen.answer as Answer }
  }
  const result = await work()
  if (result.ok) {
    await tx.idempotencyKey.create({
      data: { groupId, key, command, inputHash: hash, answer: result.value as object },
    })
  }
  return result
}
