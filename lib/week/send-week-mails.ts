import type { Actor } from '#lib/access/actor.ts'
import { installationPost, type Post } from '#lib/attempts/send-reminders.ts'
import { addDays, type CivilDate, civilDateIn, utcMidnight } from '#lib/kernel/civil-date.ts'
import { mailChoiceOf, stopAddresses } from '#lib/people/mail-choice.ts'
import type { Database } from '#lib/platform/database/database.ts'
import type { Need } from '#lib/week/need.ts'
import { needWords } from '#lib/week/need-words.ts'
import { needsOf } from '#lib/week/queries.ts'

/** The Monday of a day's week (ISO 8601). */
function mondayOf(day: CivilDate): CivilDate {
  const weekday = utcMidnight(day).getUTCDay()
  return addDays(day, -((weekday + 6) % 7))
}

interface GroupOfMail {
  readonly id: string
  readonly slug: string
  readonly name: string
  readonly today: CivilDate
}

function bodyOf(group: GroupOfMail, needs: readonly Need[], post: Post, stopPage: string): string {
  return [
    `What waits for you at ${group.name} this week:`,
    '',
    ...needs.map((need) => `- ${needWords(need)}`),
    '',
    `All of it, with the buttons: ${post.baseUrl}/g/${group.slug}`,
    '',
    `This mail comes on Mondays, when something waits. Stop it: ${stopPage}`,
  ].join('\n')
}

/** People of the group with an account who have had no mail of this week yet. */
async function waiting(db: Database, groupId: string, weekOf: CivilDate) {
  return db.prisma.member.findMany({
    where: {
      groupId,
      leftOn: null,
      login: { isNot: null },
      weekMails: { none: { weekOf: utcMidnight(weekOf) } },
    },
    select: { id: true, role: true, login: { select: { email: true } } },
    orderBy: { id: 'asc' },
  })
}

async function mailOne(
  db: Database,
  group: GroupOfMail,
  member: Awaited<ReturnType<typeof waiting>>[number],
  post: Post,
): Promise<boolean> {
  const actor: Actor = { groupId: group.id, memberId: member.id, role: member.role }
  const { weekMail } = await mailChoiceOf(db.prisma, actor)
  const needs = weekMail ? await needsOf(db, actor, group.today) : []
  const address = member.login?.email ?? null
  return db.prisma.$transaction(async (tx) => {
    // The row is the promise that nobody gets two; it is also written where there is nothing to say.
    const week = { groupId: group.id, memberId: member.id, weekOf: utcMidnight(mondayOf(group.today)) }
    const { count } = await tx.weekMail.createMany({
      data: [{ ...week, needs: needs.length, sentAt: db.now() }],
      skipDuplicates: true,
    })
    if (count === 0 || needs.length === 0 || address === null) return false
    const stop = stopAddresses(post.baseUrl, 'week-mail', actor, post.secret)
    const subject = needs.length === 1 ? 'One thing waits for you' : `${needs.length} things wait for you`
    await tx.outboxMail.create({
      data: {
        id: db.newId(),
        toAddress: address,
        subject: `${subject}, ${group.name}`,
        body: bodyOf(group, needs, post, stop.page),
        unsubscribeUrl: stop.oneClick,
      },
    })
    return true
  })
}

/**
 * Mails everybody of a group what waits for them this week. Each week once: who has had the mail, or had nothing
 * to be told, is left out. One that fails stops nobody else's; it is thrown at the end, so that it is tried again.
 *
 * @returns how many mails went to the outbox
 */
export async function sendWeekMails(
  db: Database,
  groupId: string,
  post: Post = installationPost(),
): Promise<number> {
  const { slug, name, timeZone } = await db.prisma.orchardGroup.findUniqueOrThrow({ where: { id: groupId } })
  const group = { id: groupId, slug, name, today: civilDateIn(timeZone, db.now()) }
  const failures: unknown[] = []
  let sent = 0
  for (const member of await waiting(db, groupId, mondayOf(group.today))) {
    try {
      if (await mailOne(db, group, member, post)) sent++
    } catch (error) {
      failures.push(error)
    }
  }
  if (failures.length > 0) throw new AggregateError(failures, 'Some mails of the week could not be written')
  return sent
}
