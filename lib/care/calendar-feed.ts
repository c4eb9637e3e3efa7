import { z } from 'zod'
import type { Actor } from '#lib/access/actor.ts'
import { calendarEntries } from '#lib/care/calendar-entries.ts'
import { careRows } from '#lib/care/queries.ts'
import { calendarText } from '#lib/formats/calendar/calendar-text.ts'
import { type CivilDate, civilDateIn } from '#lib/kernel/civil-date.ts'
import { onceKey } from '#lib/kernel/form-values.ts'
import { ok, type Result } from '#lib/kernel/result.ts'
import { writeAudit } from '#lib/people/write-audit.ts'
import type { Database, Queries } from '#lib/platform/database/database.ts'
import { type KeyReused, once } from '#lib/platform/database/once.ts'
import { transact } from '#lib/platform/database/transact.ts'
import { env } from '#lib/platform/env.ts'
import { makeToken, readToken, tokenHashOf } from '#lib/platform/secret-token.ts'

/** Where a calendar answers, and what signs its address. */
export interface CalendarPost {
  readonly baseUrl: string
  readonly secret: string
}

const installationPost = (): CalendarPost => ({
  baseUrl: env().nextAuthUrl,
  secret: env().nextAuthSecret,
})

export const CalendarFeedInput = z.object({ key: onceKey })
export type CalendarFeedInput = z.output<typeof CalendarFeedInput>

export interface CalendarAddress {
  readonly url: string
  readonly since: CivilDate
}

const addressOf = ({ baseUrl, secret }: CalendarPost, groupId: string, feedId: string): string =>
  `${baseUrl}/api/calendar/${makeToken(secret, 'calendar', [groupId, feedId])}.ics`

const openFeed = ({ groupId, memberId }: Actor) => ({ groupId, memberId, revokedAt: null })

/** The address of the actor's calendar; null while there is none. */
export async function calendarAddress(
  db: Database,
  actor: Actor,
  timeZone: string,
  post: CalendarPost = installationPost(),
): Promise<CalendarAddress | null> {
  const feed = await db.prisma.calendarFeed.findFirst({ where: openFeed(actor) })
  if (!feed) return null
  return { url: addressOf(post, actor.groupId, feed.id), since: civilDateIn(timeZone, feed.createdAt) }
}

async function takeBack(tx: Queries, db: Database, actor: Actor): Promise<number> {
  const { count } = await tx.calendarFeed.updateMany({
    where: openFeed(actor),
    data: { revokedAt: db.now() },
  })
  return count
}

/** Makes a new secret address for the actor's own calendar. An earlier one answers no more. */
export async function makeCalendarFeed(
  db: Database,
  actor: Actor,
  input: CalendarFeedInput,
  post: CalendarPost = installationPost(),
): Promise<Result<{ readonly feedId: string }, KeyReused>> {
  const { groupId, memberId } = actor
  return transact<{ readonly feedId: string }, KeyReused>(db, (tx) =>
    once(tx, groupId, input.key, 'make-calendar-feed', input, async () => {
      await takeBack(tx, db, actor)
      const feedId = db.newId()
      const tokenHash = tokenHashOf(makeToken(post.secret, 'calendar', [groupId, feedId]))
      await tx.calendarFeed.create({
        data: { groupId, id: feedId, memberId, tokenHash, createdAt: db.now() },
      })
      await writeAudit(tx, db, actor, { action: 'make-calendar-feed', subject: `member:${memberId}` })
      return ok({ feedId })
    }),
  )
}

/** Closes the address of the actor's own calendar. */
export async function revokeCalendarFeed(
  db: Database,
  actor: Actor,
  input: CalendarFeedInput,
): Promise<Result<{ readonly revoked: number }, KeyReused>> {
  const { groupId, memberId } = actor
  return transact<{ readonly revoked: number }, KeyReused>(db, (tx) =>
    once(tx, groupId, input.key, 'revoke-calendar-feed', input, async () => {
      const revoked = await takeBack(tx, db, actor)
      await writeAudit(tx, db, actor, { action: 'revoke-calendar-feed', subject: `member:${memberId}` })
      return ok({ revoked })
    }),
  )
}

/** The calendar of an address, as text/calendar; null when there is none, or its person has left. */
export async function readCalendar(
  db: Database,
  token: string,
  post: CalendarPost = installationPost(),
): Promise<string | null> {
  if (readToken(post.secret, 'calendar', token) === null) return null
  const feed = await db.prisma.calendarFeed.findUnique({
    where: { tokenHash: tokenHashOf(token) },
    include: { member: { include: { group: true } } },
  })
  if (!feed || feed.revokedAt !== null || feed.member.leftOn !== null) return null
  const { group } = feed.member
  const today = civilDateIn(group.timeZone, db.now())
  const rows = await careRows(db.prisma, feed.groupId, feed.memberId, today)
  const context = { timeZone: group.timeZone, today, baseUrl: post.baseUrl, slug: group.slug }
  return calendarText(
    `Grafts, ${group.name}`,
    rows.flatMap((row) => calendarEntries(row, context)),
  )
}
