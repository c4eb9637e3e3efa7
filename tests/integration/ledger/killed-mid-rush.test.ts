import { spawnSync } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { required } from '#lib/kernel/assert.ts'
import { seededRandom } from '#lib/kernel/seeded-random.ts'
import { type Database, openDatabase } from '#lib/platform/database/database.ts'
import { type EmbeddedServer, startEmbeddedServer } from '#lib/platform/embedded/embedded-server.ts'
import { applyMigrations } from '#lib/platform/migrations/apply-migrations.ts'
import { type Claimants, type Said, startClaimants, type Wish, wishesOf } from '#tests/support/claimants.ts'
import { makeRushWorld, type RushWorld } from '#tests/support/rush-world.ts'
import { expectEveryAnswerTrue } from './rush-answers.ts'

// A server of its own, with everything on that keeps an answered "yes" over a crash. What is proven is that nothing is
// lost or half done when the programs are killed; a power cut, which also takes what the disk had not written, is not
// tried here.
const home = mkdtempSync(join(tmpdir(), 'tallywood-killed-'))
const folder = join(home, 'postgres')
const options = { members: 120, lots: 20, shares: 10, sticksPerShare: 2, capPerMember: 6, capPerVariety: 2 }

let server: EmbeddedServer
let db: Database
let world: RushWorld
let wishes: readonly Wish[]
const running: Claimants[] = []

const startServer = (port?: number) =>
  startEmbeddedServer({ folder, password: 'only for this test', durable: true, ...(port ? { port } : {}) })

beforeAll(async () => {
  server = await startServer()
  await applyMigrations(server.url('postgres'))
  db = openDatabase(server.url('postgres'), { max: 4 })
  world = await makeRushWorld(db, options)
  const people = { groupId: world.group.groupId, memberIds: world.memberIds }
  const offeringIds = world.offerings.map(({ offeringId }) => offeringId)
  wishes = wishesOf(seededRandom(9), people, offeringIds, { each: 8, newId: db.newId })
})

afterAll(async () => {
  for (const process of running) await process.stop()
  await db?.close()
  await server?.stop()
  rmSync(home, { recursive: true, force: true })
})

/** Every process of the database server, the first of them first. */
function serverProcesses(): number[] {
  const first = Number(readFileSync(join(folder, 'postmaster.pid'), 'utf8').split('\n')[0])
  const table = spawnSync('ps', ['-A', '-o', 'pid=,ppid='], { encoding: 'utf8' }).stdout
  const children = table
    .split('\n')
    .map((line) => line.trim().split(/\s+/).map(Number))
    .filter(([, parent]) => parent === first)
    .map(([pid]) => required(pid, 'the number of a process'))
  return [first, ...children]
}

function killOutright(pids: readonly number[]): void {
  for (const pid of pids) {
    try {
      process.kill(pid, 'SIGKILL')
    } catch (error) {
      // Some of them end by themselves when the first one is gone.
      if ((error as NodeJS.ErrnoException).code !== 'ESRCH') throw error
    }
  }
}

/** A signal that comes when so many forms have been answered, whatever the answers are. */
function afterAnswers(count: number): {
  readonly hear: (said: Said) => void
  readonly reached: Promise<void>
} {
  let answered = 0
  let resolve = () => {}
  const reached = new Promise<void>((done) => {
    resolve = done
  })
  const hear = (said: Said) => {
    if (!('error' in said) && ++answered === count) resolve()
  }
  return { hear, reached }
}

const start = (own: readonly Wish[], hear: (said: Said) => void): Claimants => {
  const process = startClaimants(server.url('postgres'), own, hear)
  running.push(process)
  return process
}

test('whoever is killed in the middle of a rush, every answer stays true', { timeout: 300_000 }, async () => {
  const settings = await db.pool.query<{ name: string; setting: string }>(
    `select name, setting from pg_settings where name in ('fsync', 'synchronous_commit', 'full_page_writes') order by name`,
  )
  expect(settings.rows.map(({ setting }) => setting)).toEqual(['on', 'on', 'on'])

  const few = afterAnswers(Math.floor(wishes.length / 5))
  const half = afterAnswers(Math.floor(wishes.length / 2))
  const hear = (said: Said) => {
    few.hear(said)
    half.hear(said)
  }
  const halves = [0, 1].map((own) => wishes.filter((_, at) => at % 2 === own))
  const [killed, surviving] = halves.map((own) => start(own, hear))
  if (!killed || !surviving) throw new Error('Two processes were started')

  // The application first. What it had not answered is sent again, to another process.
  await few.reached
  killOutright([required(killed.process.pid, 'a running process')])
  expect(await killed.ended).toBeNull()
  const answered = new Set(killed.said.map(({ key }) => key))
  const unanswered = required(halves[0], 'its claims').filter(({ key }) => !answered.has(key))
  expect(unanswered.length).toBeGreaterThan(0)
  const second = start(unanswered, hear)

  // Then the database, with all its processes; the two applications stay and keep trying.
  await half.reached
  const before = running.flatMap(({ said }) => said)
  killOutright(serverProcesses())
  await server.ended
  server = await startServer(server.port)
  expect(await Promise.all([second.ended, surviving.ended])).toEqual([0, 0])

  const said = running.flatMap((process) => process.said)
  expect(said.some((answer) => 'error' in answer)).toBe(true)
  expect(new Set(said.filter((answer) => !('error' in answer)).map(({ key }) => key)).size).toBe(
    new Set(wishes.map(({ key }) => key)).size,
  )
  const counts = await expectEveryAnswerTrue(db, world, options, wishes, said)
  expect(before.filter((answer) => 'yes' in answer).length).toBeGreaterThan(0)
  expect(counts.yes).toBeGreaterThan(0)
})
