import PgBoss from 'pg-boss'
import type { Database } from '#lib/platform/database/database.ts'
import { hourlyCron, type JobData, type JobHandlers, type JobName } from '#lib/platform/jobs/queues.ts'
import { log } from '#lib/platform/log.ts'

const schema = 'tallywood_jobs'

/** A queue of jobs in the database. Several servers over one database share it. */
export interface JobQueue {
  /** Begins to work. Queues and tables are made by the migrations; the application has no right to. */
  start(handlers: JobHandlers): Promise<void>
  /** Puts a job in its queue, unless one with the same key waits there already. */
  send<Name extends JobName>(name: Name, data: JobData[Name], key: string): Promise<void>
  /** Lets running jobs end, then stops. */
  stop(): Promise<void>
}

export interface JobQueueOptions {
  /** How often a queue is looked at, in seconds; at least half of one. */
  readonly pollSeconds?: number
}

/** The job queue over a database's own pool, hence with the application's rights. */
export function openJobQueue(db: Database, options: JobQueueOptions = {}): JobQueue {
  const boss = new PgBoss({
    schema,
    db: { executeSql: (text, values) => db.pool.query(text, values) },
    migrate: false,
  })
  boss.on('error', (error) => log.error('The job queue met an error', { error }))
  const pollingIntervalSeconds = options.pollSeconds ?? 15

  const work = <Name extends JobName>(name: Name, handler: JobHandlers[Name]) =>
    boss.work<JobData[Name]>(name, { pollingIntervalSeconds }, async (jobs) => {
      for (const job of jobs) {
        try {
          await handler(job.data)
        } catch (error) {
          log.error('A job failed and will be tried again', { queue: name, job: job.id, error })
          throw error
        }
      }
    })

  return {
    async start(handlers) {
      await boss.start()
      await boss.schedule('hourly-round', hourlyCron, {}, { tz: 'UTC' })
      await work('hourly-round', handlers['hourly-round'])
      await work('remind-group', handlers['remind-group'])
      await work('week-mail-of-group', handlers['week-mail-of-group'])
    },
    async send(name, data, key) {
      await boss.send(name, data, { singletonKey: key })
    },
    stop: () => boss.stop({ wait: true, timeout: 10_000 }),
  }
}
