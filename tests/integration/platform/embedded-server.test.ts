import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { createServer } from 'node:net'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { Client } from 'pg'
import { afterAll, describe, expect, test } from 'vitest'
import { type EmbeddedServer, startEmbeddedServer } from '#lib/platform/embedded/embedded-server.ts'

const home = mkdtempSync(join(tmpdir(), 'tallywood-embedded-'))
const folder = join(home, 'postgres')
const running: EmbeddedServer[] = []

const start = async (port?: number): Promise<EmbeddedServer> => {
  const server = await startEmbeddedServer({
    folder,
    password: 'p/a:s@s',
    durable: false,
    ...(port ? { port } : {}),
  })
  running.push(server)
  return server
}

async function ask(server: EmbeddedServer, sql: string): Promise<unknown[]> {
  const client = new Client({ connectionString: server.url('postgres') })
  await client.connect()
  try {
    return (await client.query(sql)).rows
  } finally {
    await client.end()
  }
}

const refuses = (server: EmbeddedServer): Promise<void> =>
  expect(ask(server, 'select 1')).rejects.toThrow(/ECONNREFUSED/)

afterAll(async () => {
  for (const server of running) await server.stop()
  rmSync(home, { recursive: true, force: true })
})

describe('the embedded database', () => {
  test('makes its folder anew where an earlier try broke off, and speaks UTF-8 in UTC', async () => {
    mkdirSync(`${folder}.unfinished`)
    writeFileSync(join(`${folder}.unfinished`, 'PG_VERSION'), '18')
    const server = await start()
    expect(existsSync(`${folder}.unfinished`)).toBe(false)
    expect(
      await ask(
        server,
        `select current_setting('server_encoding') as encoding, current_setting('timezone') as zone`,
      ),
    ).toEqual([{ encoding: 'UTF8', zone: 'UTC' }])
    expect(
      await ask(
        server,
        `select string_agg(name, ' ' order by name) as sorted from (values ('zoë'), ('Åke'), ('Bea')) as people (name)`,
      ),
    ).toEqual([{ sorted: 'Åke Bea zoë' }])
    await ask(server, 'create table kept (n integer); insert into kept values (7)')
    await server.stop()
    await refuses(server)
  })

  test('keeps its data and its port', async () => {
    const port = running[0]?.port ?? 0
    const server = await start(port)
    expect(server.port).toBe(port)
    expect(await ask(server, 'select n from kept')).toEqual([{ n: 7 }])
    await server.stop()
    await server.stop()
  })

  test('takes another port where its own is taken', async () => {
    const port = running[0]?.port ?? 0
    const stranger = createServer().listen(port, '127.0.0.1')
    await new Promise((resolve) => stranger.once('listening', resolve))
    const server = await start(port)
    expect(server.port).not.toBe(port)
    expect(await ask(server, 'select n from kept')).toEqual([{ n: 7 }])
    await new Promise((resolve) => stranger.close(resolve))
  })

  test('ends a server that was left running over the folder, and takes its place', async () => {
    const left = running.at(-1)
    if (!left) throw new Error('no server was left')
    const server = await start()
    await left.ended
    await refuses(left)
    expect(await ask(server, 'select n from kept')).toEqual([{ n: 7 }])
    await server.stop()
  })

  test('forgets a server that is gone, even when its number belongs to another program now', async () => {
    writeFileSync(join(folder, 'postmaster.pid'), `${process.pid}\n${folder}\n`)
    const server = await start()
    expect(await ask(server, 'select n from kept')).toEqual([{ n: 7 }])
    await server.stop()
  })

  test('refuses data of another version with a sentence', async () => {
    const file = join(folder, 'PG_VERSION')
    const version = readFileSync(file)
    writeFileSync(file, '17\n')
    await expect(start()).rejects.toThrow(/written by PostgreSQL 17/)
    writeFileSync(file, version)
  })
})
