import { accessSync, constants, existsSync } from 'node:fs'
import { join } from 'node:path'
import { isPortFree } from '#lib/platform/embedded/free-port.ts'
import { EnvironmentError, parseEnv } from '#lib/platform/env.ts'
import { ensureBuilt } from '../build-pages.ts'
import { ensureGenerated } from '../generate.mjs'
import { root } from '../root.ts'
import { isStopping, onShutdown, shutDown, stopOnSignals } from '../shutdown.ts'
import { reportAndExit, Stop, step } from '../steps.mjs'
import { claimDataFolder, type OpenedDatabase, openEmbedded, openOwn } from './database.ts'
import { explainDatabase } from './explain-database.ts'
import { demoWorld, prepareDatabase } from './prepare-database.ts'
import { dataFolder, localSecrets } from './secrets.ts'
import { readSettings, type StartSettings } from './settings.ts'
import { startWebServer, waitForAnswer } from './web-server.ts'

let isServing = false

function checkWritable(): void {
  for (const folder of [root, dataFolder, join(root, '.next')]) {
    if (!existsSync(folder)) continue
    try {
      accessSync(folder, constants.W_OK)
    } catch {
      throw new Stop(
        `Tallywood has to write into ${folder}, but this user may not. Change the owner of the folder, or run as the user who owns it.`,
      )
    }
  }
}

async function checkPort(port: number): Promise<void> {
  const isFree = await isPortFree(port).catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'EACCES')
      throw new Stop(`This user may not listen on port ${port}. Set PORT to another one, such as PORT=3000.`)
    throw error
  })
  if (!isFree)
    throw new Stop(
      `Port ${port} is taken by another program. Stop it, or set PORT to another one, such as PORT=${port + 1}.`,
    )
}

async function prepare(settings: StartSettings, database: OpenedDatabase): Promise<void> {
  const title = settings.isOwnProduction
    ? 'Bringing the database up to date'
    : 'Preparing the database and its contents'
  try {
    await step(title, (onProgress) =>
      prepareDatabase(database.url, { demo: settings.isOwnProduction ? null : demoWorld, onProgress }),
    )
  } catch (error) {
    throw explainDatabase(error, database.url)
  }
}

/** Everything that the server is told, over whatever this process was told; refused if it makes no sense. */
function serverEnvironment(settings: StartSettings, databaseUrl: string): NodeJS.ProcessEnv {
  const made = settings.isOwnProduction
    ? {}
    : {
        NEXTAUTH_SECRET: process.env['NEXTAUTH_SECRET'] || localSecrets().nextAuthSecret,
        NEXT_SERVER_ACTIONS_ENCRYPTION_KEY:
          process.env['NEXT_SERVER_ACTIONS_ENCRYPTION_KEY'] || localSecrets().serverActionsKey,
      }
  const env = {
    ...process.env,
    ...made,
    DATABASE_URL: databaseUrl,
    TALLYWOOD_DATABASE: settings.isOwnProduction ? 'own' : 'trial',
    NEXTAUTH_URL: settings.address,
  }
  try {
    parseEnv({ ...env, NODE_ENV: settings.isDev ? 'development' : 'production' })
  } catch (error) {
    if (error instanceof EnvironmentError) throw new Stop(error.message)
    throw error
  }
  return env
}

async function main(): Promise<void> {
  stopOnSignals(() => (isServing ? 0 : 130))
  const settings = readSettings(process.argv.slice(2))
  checkWritable()
  await checkPort(settings.port)
  if (!settings.ownDatabaseUrl) claimDataFolder(settings.address)
  await ensureGenerated()
  const database = settings.ownDatabaseUrl ? await openOwn(settings.ownDatabaseUrl) : await openEmbedded()
  await prepare(settings, database)
  const env = serverEnvironment(settings, database.url)
  if (!settings.isDev) await ensureBuilt(env, (child) => onShutdown(child.stop))
  await checkPort(settings.port)
  const server = startWebServer({ isDev: settings.isDev, port: settings.port, env })
  onShutdown(server.stop)
  await step('Starting the web server', () => waitForAnswer(settings.port, server.ended))
  isServing = true
  // Only now: the database client, which this needs, is written above on a fresh checkout.
  const { welcome } = await import('./welcome.ts')
  console.log(await welcome(settings, database))
  const which = await Promise.race([
    server.ended.then(() => 'The web server'),
    database.ended.then(() => 'The database'),
  ])
  if (!isStopping()) throw new Stop(`${which} ended by itself; what it said is above.`)
}

main().catch(async (error: unknown) => {
  // Once asked to stop, whatever breaks does so because its ground was taken away.
  if (isStopping()) return
  await shutDown()
  reportAndExit(error)
})
