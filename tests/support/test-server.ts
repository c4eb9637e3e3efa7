import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { startEmbeddedServer } from '#lib/platform/embedded/embedded-server.ts'

/** A PostgreSQL server to make test databases on. */
export interface TestServer {
  /** Connects to a database that always exists. */
  readonly url: string
  readonly stop: () => Promise<void>
}

async function startEmbedded(): Promise<TestServer> {
  const home = mkdtempSync(join(tmpdir(), 'tallywood-test-'))
  const server = await startEmbeddedServer({
    folder: join(home, 'postgres'),
    password: 'only for tests',
    durable: false,
  })
  return {
    url: server.url('postgres'),
    stop: async () => {
      await server.stop()
      rmSync(home, { recursive: true, force: true })
    },
  }
}

async function startContainer(image: string): Promise<TestServer> {
  const { PostgreSqlContainer } = await import('@testcontainers/postgresql')
  const container = await new PostgreSqlContainer(image).start()
  return {
    url: container.getConnectionUri(),
    stop: async () => {
      await container.stop()
    },
  }
}

/**
 * The server that the tests use: the one in TEST_DATABASE_URL (whose role may create databases), a container of
 * TEST_POSTGRES_IMAGE, or the embedded one in a temporary folder.
 */
export async function startTestServer(): Promise<TestServer> {
  const own = process.env['TEST_DATABASE_URL']
  if (own) return { url: own, stop: async () => {} }
  const image = process.env['TEST_POSTGRES_IMAGE']
  return image ? startContainer(image) : startEmbedded()
}
