import { type Database, openDatabase } from '#lib/platform/database/database.ts'
import { env } from '#lib/platform/env.ts'

const place = globalThis as { tallywoodDatabase?: Database }

/** The one pool of this server process. Kept on the global object because development reloads modules. */
export function appDatabase(): Database {
  if (!place.tallywoodDatabase) {
    const { databaseUrl, clockOffsetDays } = env()
    const offsetMs = clockOffsetDays * 86_400_000
    place.tallywoodDatabase = openDatabase(databaseUrl, {
      max: 16,
      now: () => new Date(Date.now() + offsetMs),
    })
  }
  return place.tallywoodDatabase
}
