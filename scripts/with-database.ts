import { ensureGenerated } from './generate.mjs'
import { shutDown, stopOnSignals } from './shutdown.ts'
import { claimDataFolder, openEmbedded, openOwn } from './start/database.ts'
import { explainDatabase } from './start/explain-database.ts'
import { readSettings, type StartSettings } from './start/settings.ts'
import { reportAndExit } from './steps.mjs'

/**
 * Runs a one-off program over the database that `npm start` would use, starting the embedded server for as long
 * as it takes.
 */
export async function withDatabase(
  name: string,
  work: (databaseUrl: string, settings: StartSettings) => Promise<void>,
): Promise<void> {
  stopOnSignals(() => 130)
  try {
    const settings = readSettings([])
    if (!settings.ownDatabaseUrl) claimDataFolder(name)
    await ensureGenerated()
    const { url } = settings.ownDatabaseUrl ? await openOwn(settings.ownDatabaseUrl) : await openEmbedded()
    try {
      await work(url, settings)
    } catch (error) {
      throw explainDatabase(error, url)
    }
    await shutDown()
  } catch (error) {
    await shutDown()
    reportAndExit(error)
  }
}
