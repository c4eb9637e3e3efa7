import { Client } from 'pg'
import { ensureApplicationRole } from './application-role.ts'
import { type MigrationFolder, readMigrations, repositoryFolder } from './migration-folder.ts'
import { withSchemaEngine } from './schema-engine.ts'

/** Two starters over one database take turns; the number is ours alone and means nothing. */
const turnKey = 7_214_551

const oldestServer = 150_000

/** The database cannot be brought up to date; the message is for the person who runs the installation. */
export class MigrationError extends Error {
  override readonly name = 'MigrationError'
}

async function checkServer(client: Client): Promise<void> {
  const { rows } = await client.query<{ number: number; name: string }>(
    `select current_setting('server_version_num')::int as number, current_setting('server_version') as name`,
  )
  if ((rows[0]?.number ?? 0) >= oldestServer) return
  throw new MigrationError(`Tallywood needs PostgreSQL 15 or newer; this server is version ${rows[0]?.name}.`)
}

/** Runs `work` while no other starter is changing the same database. */
export async function inTurn<T>(databaseUrl: string, work: (client: Client) => Promise<T>): Promise<T> {
  const client = new Client({
    connectionString: databaseUrl,
    connectionTimeoutMillis: 10_000,
    application_name: 'tallywood setup',
  })
  client.on('error', () => {})
  try {
    await client.connect()
    await client.query('select pg_advisory_lock($1)', [turnKey])
    return await work(client)
  } finally {
    await client.end()
  }
}

/**
 * Brings a database up to the migrations of `folder` and returns the names of those applied now. Keeps Prisma's
 * own record, so `prisma migrate deploy` over the same database agrees. Takes its turn by itself; inside
 * `inTurn`, call `migrateWith` instead.
 */
export const applyMigrations = (
  databaseUrl: string,
  folder: MigrationFolder = repositoryFolder(),
): Promise<readonly string[]> => inTurn(databaseUrl, (client) => migrateWith(client, databaseUrl, folder))

/** Like `applyMigrations`, for a caller whose turn it already is. */
export async function migrateWith(
  client: Client,
  databaseUrl: string,
  folder: MigrationFolder = repositoryFolder(),
): Promise<readonly string[]> {
  await checkServer(client)
  await ensureApplicationRole(client)
  const migrationsList = readMigrations(folder)
  const filters = { externalTables: [], externalEnums: [] }
  return withSchemaEngine(databaseUrl, folder, async (engine) => {
    const state = await engine.diagnoseMigrationHistory({
      migrationsList,
      filters,
      optInToShadowDatabase: false,
    })
    // A script runs as one transaction, so one that was interrupted or refused has left nothing behind.
    for (const migrationName of state.failedMigrationNames)
      await engine.markMigrationRolledBack({ migrationName })
    const edited = state.editedMigrationNames.filter((name) => !state.failedMigrationNames.includes(name))
    if (edited.length > 0) {
      throw new MigrationError(
        `The database was made with other versions of ${edited.join(', ')} than this copy of Tallywood has. Use the copy that it was made with, or an empty database.`,
      )
    }
    if (
      state.history?.diagnostic === 'historiesDiverge' ||
      state.history?.diagnostic === 'migrationsDirectoryIsBehind'
    ) {
      throw new MigrationError(
        `The database knows changes that this copy of Tallywood does not (${state.history.unpersistedMigrationNames.join(', ')}): it was used by a newer one. Start that one instead.`,
      )
    }
    return (await engine.applyMigrations({ migrationsList, filters })).appliedMigrationNames
  })
}
