import type { Database, Queries } from '#lib/platform/database/database.ts'

/**
 * The same handle inside an open transaction: commands that would begin one of their own take part in it, so that
 * many of them succeed or fail together. Its `pool` still stands outside.
 */
export function joinTransaction(db: Database, tx: Queries): Database {
  const prisma = new Proxy(db.prisma, {
    get: (_client, name) =>
      name === '$transaction'
        ? (work: (joined: Queries) => Promise<unknown>) => work(tx)
        : Reflect.get(tx, name),
  })
  return { ...db, prisma }
}
