import { randomBytes } from 'node:crypto'
import { Client } from 'pg'
import type { TestProject } from 'vitest/node'
import { applyMigrations } from '#lib/platform/migrations/apply-migrations.ts'
import { startTestServer } from './test-server.ts'

declare module 'vitest' {
  interface ProvidedContext {
    /** Connects to the test server, with the right to create databases. */
    testServerUrl: string
    /** All databases of this run begin with this; `<prefix>_template` is the migrated one to clone. */
    testDatabasePrefix: string
  }
}

async function withClient<T>(url: string, work: (client: Client) => Promise<T>): Promise<T> {
  const client = new Client({ connectionString: url })
  await client.connect()
  try {
    return await work(client)
  } finally {
    await client.end()
  }
}

async function makeTemplate(serverUrl: string, name: string): Promise<void> {
  await withClient(serverUrl, (client) => client.query(`create database ${name}`))
  const url = new URL(serverUrl)
  url.pathname = `/${name}`
  await applyMigrations(url.toString())
  // Cloning needs a template that nobody is connected to.
  await withClient(serverUrl, (client) => client.query(`alter database ${name} with allow_connections false`))
}

async function dropAll(serverUrl: string, prefix: string): Promise<void> {
  await withClient(serverUrl, async (client) => {
    const { rows } = await client.query<{ datname: string }>(
      'select datname from pg_database where starts_with(datname, $1)',
      [prefix],
    )
    for (const { datname } of rows) await client.query(`drop database ${datname} with (force)`)
  })
}

/** Starts a server and migrates one template, for all test files of the project. */
export default async function setup(project: TestProject): Promise<() => Promise<void>> {
  const server = await startTestServer()
  const prefix = `tallywood_test_${randomBytes(4).toString('hex')}`
  try {
    await makeTemplate(server.url, `${prefix}_template`)
  } catch (error) {
    await dropAll(server.url, prefix)
    await server.stop()
    throw error
  }
  project.provide('testServerUrl', server.url)
  project.provide('testDatabasePrefix', prefix)
  return async () => {
    await dropAll(server.url, prefix)
    await server.stop()
  }
}
