import { sendReminders } from '#lib/attempts/send-reminders.ts'
import { appDatabase } from '#lib/platform/database/app-database.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { readInstallation } from '#lib/platform/database/installation.ts'
import { type JobQueue, openJobQueue } from '#lib/platform/jobs/job-queue.ts'
import type { JobHandlers } from '#lib/platform/jobs/queues.ts'
import { log } from '#lib/platform/log.ts'
import { sendWeekMails } from '#lib/week/send-week-mails.ts'

/** Hours of the group's own clock within which mail is written: nobody is woken. */
const fromHour = 8
const untilHour = 20
const monday = 1

/** The hour and the day of the week (0 is Sunday) that a clock in a zone shows. */
export function wallHour(timeZone: string, at: Date): { readonly hour: number; readonly weekday: number } {
  const parts = new Intl.DateTimeFormat('en-CA', {
    timeZone,
    hourCycle: 'h23',
    year: 'numeric',
    month: '2-digit',
    day: '2-digit',
    hour: '2-digit',
  }).formatToParts(at)
  const part = (type: string) => parts.find((found) => found.type === type)?.value ?? ''
  const day = `${part('year')}-${part('month')}-${part('day')}`
  return { hour: Number(part('hour')), weekday: new Date(`${day}T00:00:00Z`).getUTCDay() }
}

/**
 * Hands out the work of the hour: each group where it is day is asked about looks, and on Mondays told of its week.
 * The people of the demo world have no mailboxes: there nothing is sent.
 */
export async function handOutRound(db: Database, queue: Pick<JobQueue, 'send'>): Promise<number> {
  const { isDemo } = await readInstallation(db.pool)
  if (isDemo) return 0
  const groups = await db.prisma.orchardGroup.findMany({ select: { id: true, timeZone: true } })
  let jobs = 0
  for (const { id: groupId, timeZone } of groups) {
    const { hour, weekday } = wallHour(timeZone, db.now())
    if (hour < fromHour || hour >= untilHour) continue
    await queue.send('remind-group', { groupId }, groupId)
    jobs++
    if (weekday === monday) {
      await queue.send('week-mail-of-group', { groupId }, groupId)
      jobs++
    }
  }
  return jobs
}

/** What does the work of each queue. */
const mailHandlers = (db: Database, queue: Pick<JobQueue, 'send'>): JobHandlers => ({
  'hourly-round': async () => {
    await handOutRound(db, queue)
  },
  'remind-group': async ({ groupId }) => {
    await sendReminders(db, groupId)
  },
  'week-mail-of-group': async ({ groupId }) => {
    await sendWeekMails(db, groupId)
  },
})

/** Begins the rounds of this server process. A database that is not ready is said in the log; pages go on. */
export async function startMailRounds(): Promise<void> {
  const db = appDatabase()
  const queue = openJobQueue(db)
  try {
    await queue.start(mailHandlers(db, queue))
  } catch (error) {
    log.error('Reminders are not sent: the job queue could not begin', { error })
  }
}
