import { randomBytes } from 'node:crypto'
import { Client } from 'pg'
import { afterAll, afterEach, beforeAll, inject } from 'vitest'
import type { Clock } from '#lib/kernel/clock.ts'
import { verifyLedger } from '#lib/ledger/verify-ledger.ts'
import { type Database, openDatabase } from '#lib/platform/database/database.ts'
import { demoWorld, prepareDatabase } from '../../scripts/start/prepare-database.ts'

const demoTurnKey = 3_380_117
const closingGraceMs = 2_000

/** A database that belongs to one test file. */
export interface TestDatabase {
  /** Opened as the application opens it. Only inside tests and hooks. */
  readonly db: Database
  /** Connects as the owner of everything, for tests that speak SQL themselves. */
  readonly url: string
}

export interface TestDatabaseOptions {
  /** A copy of the finished demo world; otherwise an empty, migrated database. */
  readonly demo?: boolean
  readonly now?: Clock
  /** Connections in the pool. */
  readonly max?: number
  /** For tests that write faults themselves: the ledger is not looked at after each of them. */
  readonly ledger?: 'is broken on purpose'
}

async function onServer<T>(work: (client: Client) => Promise<T>): Promise<T> {
  const client = new Client({ connectionString: inject('testServerUrl') })
  await client.connect()
  try {
    return await work(client)
  } finally {
    await client.end()
  }
}

function urlOf(name: string): string {
  const url = new URL(inject('testServerUrl'))
  url.pathname = `/${name}`
  return url.toString()
}

/** The name of the template with the demo world; the first file that wants it builds it, others wait. */
function demoTemplate(): Promise<string> {
  const prefix = inject('testDatabasePrefix')
  const finished = `${prefix}_demo`
  const building = `${prefix}_demo_building`
  return onServer(async (client) => {
    await client.query('select pg_advisory_lock($1)', [demoTurnKey])
    const { rowCount } = await client.query('select from pg_database where datname = $1', [finished])
    if (rowCount) return finished
    await client.query(`drop database if exists ${building} with (force)`)
    await client.query(`create database ${building} template ${prefix}_template`)
    await prepareDatabase(urlOf(building), { demo: demoWorld, onProgress: () => {} })
    await client.query(`alter database ${building} rename to ${finished}`)
    await client.query(`alter database ${finished} with allow_connections false`)
    return finished
  })
}

async function makeClone(options: TestDatabaseOptions): Promise<string> {
  const prefix = inject('testDatabasePrefix')
  const template = options.demo ? await demoTemplate() : `${prefix}_template`
  const name = `${prefix}_${randomBytes(6).toString('hex')}`
  await onServer((client) => client.query(`create database ${name} template ${template}`))
  return name
}

interface Session {
  readonly application_name: string
  readonly query: string
}

/** Sessions that are still there although everything ought to be closed; closing takes the server a moment. */
async function openSessions(client: Client, name: string): Promise<readonly Session[]> {
  const deadline = Date.now() + closingGraceMs
  for (;;) {
    const { rows } = await client.query<Session>(
      `select application_name, query from pg_stat_activity where datname = $1 and backend_type = 'client backend'`,
      [name],
    )
    if (rows.length === 0 || Date.now() > deadline) return rows
    await new Promise((resolve) => setTimeout(resolve, 20))
  }
}

async function dropClone(name: string): Promise<void> {
  await onServer(async (client) => {
    const sessions = await openSessions(client, name)
    await client.query(`drop database ${name} with (force)`)
    if (sessions.length === 0) return
    const list = sessions.map((session) => `${session.application_name || 'unnamed'}: ${session.query}`)
    throw new Error(`${sessions.length} connections were left open after the last test:\n${list.join('\n')}`)
  })
}

function opened<T>(value: T | null): T {
  if (value === null) throw new Error('The test database is there inside tests and hooks only')
  return value
}

/** Fails the test after which the ledger is no longer true. */
async function expectTrueLedger(db: Database): Promise<void> {
  const faults = await verifyLedger(db)
  if (faults.length === 0) return
  const list = faults.map(({ fault, subject, detail }) => `${fault}: ${subject} ${detail}`)
  throw new Error(`The ledger has ${faults.length} faults after this test:\n${list.join('\n')}`)
}

/**
 * Gives the calling test file a database of its own, dropped after its last test. Call it once, at the top level.
 * After each test the ledger has to be true. A connection that the file opened itself and left open fails the file.
 */
export function testDatabase(options: TestDatabaseOptions = {}): TestDatabase {
  let name: string | null = null
  let db: Database | null = null
  beforeAll(async () => {
    name = await makeClone(options)
    db = openDatabase(urlOf(name), {
      ...(options.now ? { now: options.now } : {}),
      ...(options.max ? { max: options.max } : {}),
    })
  })
  if (!options.ledger) {
    afterEach(async () => {
      if (db) await expectTrueLedger(db)
    })
  }
  afterAll(async () => {
    await db?.close()
    if (name) await dropClone(name)
  })
  return {
    get db() {
      return opened(db)
    },
    get url() {
      return urlOf(opened(name))
    },
  }
}
