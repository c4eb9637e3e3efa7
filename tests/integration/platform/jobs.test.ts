import PgBoss from 'pg-boss'
import { expect, onTestFinished, test, vi } from 'vitest'
import { openJobQueue } from '#lib/platform/jobs/job-queue.ts'
import type { JobHandlers } from '#lib/platform/jobs/queues.ts'
import { rawSqlAs } from '#tests/integration/ledger/two-roles.ts'
import { testDatabase } from '#tests/support/database.ts'

const database = testDatabase()
const { owner, application } = rawSqlAs(database)

const idle: JobHandlers = {
  'hourly-round': async () => {},
  'remind-group': async () => {},
  'week-mail-of-group': async () => {},
}

async function working(handlers: Partial<JobHandlers>) {
  const queue = openJobQueue(database.db, { pollSeconds: 0.5 })
  onTestFinished(() => queue.stop())
  await queue.start({ ...idle, ...handlers })
  return queue
}

interface JobRow {
  readonly state: string
  readonly retry_count: number
  readonly waits: boolean
}

const jobsOf = (queue: string, key: string) =>
  owner.query<JobRow>(
    `select state, retry_count, start_after > now() as waits from tallywood_jobs.job
     where name = $1 and singleton_key = $2`,
    [queue, key],
  )

test('a job is done once, with the rights of the application', async () => {
  const done: string[] = []
  const queue = await working({
    'remind-group': async ({ groupId }) => {
      done.push(groupId)
    },
  })
  await queue.send('remind-group', { groupId: 'one' }, 'one')
  await queue.send('remind-group', { groupId: 'one' }, 'one')
  await queue.send('remind-group', { groupId: 'two' }, 'two')
  await vi.waitFor(() => expect(done.toSorted()).toEqual(['one', 'two']), 20_000)
  await vi.waitFor(
    async () => expect(await jobsOf('remind-group', 'one')).toMatchObject([{ state: 'completed' }]),
    20_000,
  )
})

test('a job that fails is tried again, after a while', async () => {
  const error = vi.spyOn(process.stderr, 'write').mockReturnValue(true)
  onTestFinished(() => error.mockRestore())
  const queue = await working({
    'week-mail-of-group': () => Promise.reject(new Error('The ink is frozen')),
  })
  await queue.send('week-mail-of-group', { groupId: 'cold' }, 'cold')
  await vi.waitFor(
    async () =>
      expect(await jobsOf('week-mail-of-group', 'cold')).toMatchObject([{ state: 'retry', waits: true }]),
    20_000,
  )
  expect(error.mock.calls.flat().join('')).toContain('The ink is frozen')
})

test('the round of the hour stands in the calendar of the queue', async () => {
  await working({})
  expect(await owner.query('select name, cron, timezone from tallywood_jobs.schedule')).toEqual([
    { name: 'hourly-round', cron: '7 * * * *', timezone: 'UTC' },
  ])
})

test('the tables are those of the pg-boss that works with them', async () => {
  const boss = new PgBoss({
    schema: 'tallywood_jobs',
    migrate: false,
    db: { executeSql: (text, values) => database.db.pool.query(text, values) },
  })
  onTestFinished(() => boss.stop())
  // Refuses when the tables are of another version.
  await boss.start()
  expect((await boss.getQueues()).map(({ name }) => name).toSorted()).toEqual([
    '__pgboss__send-it',
    'hourly-round',
    'remind-group',
    'week-mail-of-group',
  ])
})

test.each([
  `select tallywood_jobs.create_queue('own', '{}')`,
  `select tallywood_jobs.delete_queue('remind-group')`,
  `insert into tallywood_jobs.queue (name) values ('own')`,
  `update tallywood_jobs.version set version = 1`,
  'drop table tallywood_jobs.archive',
  'create table tallywood_jobs.mine (id int)',
  'truncate tallywood_jobs.job',
])('the application may not: %s', async (statement) => {
  expect(await application.attack(statement)).toMatchObject({ state: '42501' })
})
