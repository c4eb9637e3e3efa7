import { chmodSync, existsSync, mkdirSync, readFileSync, statSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { type EmbeddedServer, startEmbeddedServer } from '#lib/platform/embedded/embedded-server.ts'
import { lockFolder } from '#lib/platform/embedded/folder-lock.ts'
import { inTurn } from '#lib/platform/migrations/apply-migrations.ts'
import { onShutdown } from '../shutdown.ts'
import { Stop, step } from '../steps.mjs'
import { explainDatabase, withoutPassword } from './explain-database.ts'
import { dataFolder, localSecrets } from './secrets.ts'

/** The application's database on the embedded server. */
const databaseName = 'tallywood'

export interface OpenedDatabase {
  readonly url: string
  /** For the summary: where the data are. */
  readonly place: string
  /** Settles if the server ends by itself. Never, for a server of one's own. */
  readonly ended: Promise<void>
}

/** Takes this checkout's data folder for this process, or says who has it. */
export function claimDataFolder(address: string): void {
  mkdirSync(dataFolder, { recursive: true })
  const own = process.getuid?.() ?? 0
  if (own !== 0 && statSync(dataFolder).uid !== own) {
    throw new Stop(
      `The data in ${dataFolder} belong to another user of this computer. Start Tallywood as that user, or change the owner of the folder.`,
    )
  }
  // The database runs as another user when this one is root; it must be able to pass, not to look around.
  chmodSync(dataFolder, 0o711)
  const lock = lockFolder(join(dataFolder, 'lock'), address)
  if (!lock.ok) {
    throw new Stop(
      `Tallywood already runs from this folder (process ${lock.holder.pid}, ${lock.holder.address}). Stop that one first, or use its address.`,
    )
  }
  onShutdown(lock.release)
}

const portFile = join(dataFolder, 'postgres-port')

async function startEmbedded(): Promise<EmbeddedServer> {
  const remembered = existsSync(portFile) ? Number(readFileSync(portFile, 'utf8')) : 0
  const server = await startEmbeddedServer({
    folder: join(dataFolder, 'postgres'),
    password: localSecrets().databasePassword,
    durable: true,
    ...(remembered > 0 ? { port: remembered } : {}),
  })
  writeFileSync(portFile, `${server.port}\n`)
  return server
}

/** Starts the embedded server of this checkout; its data folder has been claimed. */
export async function openEmbedded(): Promise<OpenedDatabase> {
  const isFirst = !existsSync(join(dataFolder, 'postgres'))
  const title = isFirst ? 'Setting up the embedded database' : 'Starting the embedded database'
  try {
    return await step(title, async () => {
      const server = await startEmbedded()
      onShutdown(server.stop)
      await inTurn(server.url('postgres'), async (client) => {
        const { rowCount } = await client.query('select from pg_database where datname = $1', [databaseName])
        if (!rowCount) await client.query(`create database ${databaseName}`)
      })
      return { url: server.url(databaseName), place: join(dataFolder, 'postgres'), ended: server.ended }
    })
  } catch (error) {
    throw explainDatabase(error, 'postgresql://127.0.0.1/')
  }
}

/** Looks whether a server of one's own lets Tallywood in. */
export async function openOwn(url: string): Promise<OpenedDatabase> {
  try {
    await step(`Asking the database at ${withoutPassword(url)}`, () => inTurn(url, async () => {}))
  } catch (error) {
    throw explainDatabase(error, url)
  }
  return { url, place: withoutPassword(url), ended: new Promise(() => {}) }
}
