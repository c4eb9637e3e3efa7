import { checkLinkFor, installationSecret } from '#lib/attempts/check-link.ts'
import { type DueLook, dueLooksOfGroup } from '#lib/attempts/due-looks.ts'
import { type AskedLook, reminderLetter } from '#lib/attempts/reminder-letter.ts'
import { required } from '#lib/kernel/assert.ts'
import { civilDateIn } from '#lib/kernel/civil-date.ts'
import { dayWords } from '#lib/people/day-words.ts'
import { mailChoiceOf, stopAddresses } from '#lib/people/mail-choice.ts'
import type { Database, Queries } from '#lib/platform/database/database.ts'
import { env } from '#lib/platform/env.ts'

/** The second reminder comes so many days after the first. There is no third. */
const secondAfterDays = 14
const mostReminders = 2
/** Batches in one mail; the others come with the next day's. */
const mostInMail = 12

export interface Post {
  /** Where this installation answers, without a slash at the end. */
  readonly baseUrl: string
  /** What signs the links. */
  readonly secret: string
}

/** The post of the running installation. */
export const installationPost = (): Post => ({ baseUrl: env().nextAuthUrl, secret: installationSecret() })

/**
 * Whether a look is asked for by mail now: once when it is due, once more two weeks later. The first fruit is asked
 * for on the pages alone, because its answer is a name, not a count.
 */
function isToBeAsked({ look, remindedAt }: DueLook, now: Date): boolean {
  if (look.name === 'first-fruit' || remindedAt.length >= mostReminders) return false
  const last = remindedAt.at(-1)
  return last === undefined || now.getTime() - last.getTime() >= secondAfterDays * 86_400_000
}

async function addressOf(tx: Queries, groupId: string, memberId: string) {
  const member = await tx.member.findUnique({
    where: { groupId_id: { groupId, id: memberId } },
    select: { email: true, leftOn: true, login: { select: { email: true } } },
  })
  if (!member || member.leftOn !== null) return null
  return member.login?.email ?? member.email
}

interface ToGrower {
  readonly groupId: string
  readonly groupName: string
  readonly timeZone: string
  readonly growerId: string
  readonly due: readonly DueLook[]
}

/** Writes one person's mail with its links and notes each look as asked for; all of it or nothing. */
async function remindOne(tx: Queries, db: Database, post: Post, to: ToGrower): Promise<boolean> {
  const { groupId, growerId: memberId } = to
  const recipient = { groupId, memberId }
  const { reminders } = await mailChoiceOf(tx, recipient)
  const address = reminders ? await addressOf(tx, groupId, memberId) : null
  if (address === null) return false
  const mailId = db.newId()
  const looks: AskedLook[] = []
  let until: Date | null = null
  for (const due of to.due.slice(0, mostInMail)) {
    const of = { groupId, memberId, attemptId: due.attemptId, checkpoint: due.look.name }
    const { token, expiresAt } = await checkLinkFor(tx, db, of, post.secret)
    looks.push({ due, address: `${post.baseUrl}/answer/${token}` })
    if (until === null || expiresAt < until) until = expiresAt
    await tx.reminder.create({ data: { ...of, nth: due.remindedAt.length + 1, mailId, sentAt: db.now() } })
  }
  const stop = stopAddresses(post.baseUrl, 'reminders', recipient, post.secret)
  const letter = reminderLetter({
    groupName: to.groupName,
    looks,
    until: dayWords(civilDateIn(to.timeZone, required(until, 'a link of the mail'))),
    stopPage: stop.page,
  })
  await tx.outboxMail.create({
    data: { id: mailId, toAddress: address, ...letter, unsubscribeUrl: stop.oneClick },
  })
  return true
}

function byGrower(due: readonly DueLook[]): ReadonlyMap<string, readonly DueLook[]> {
  const growers = new Map<string, DueLook[]>()
  for (const look of due) growers.set(look.growerId, [...(growers.get(look.growerId) ?? []), look])
  return growers
}

/**
 * Mails everybody of a group whose looks are due, at most twice for each look. Running it again at once sends
 * nothing; two runs at the same time take turns.
 *
 * @returns how many mails went to the outbox
 */
export async function sendReminders(
  db: Database,
  groupId: string,
  post: Post = installationPost(),
): Promise<number> {
  const work = async (tx: Queries) => {
    await tx.$executeRaw`select pg_advisory_xact_lock(hashtextextended(${`reminders:${groupId}`}, 0))`
    const group = await tx.orchardGroup.findUniqueOrThrow({ where: { id: groupId } })
    const today = civilDateIn(group.timeZone, db.now())
    const due = (await dueLooksOfGroup(tx, groupId, group.timeZone, today)).filter((look) =>
      isToBeAsked(look, db.now()),
    )
    let sent = 0
    for (const [growerId, looks] of byGrower(due)) {
      const { name: groupName, timeZone } = group
      if (await remindOne(tx, db, post, { groupId, groupName, timeZone, growerId, due: looks })) sent++
    }
    return sent
  }
  return db.prisma.$transaction(work, { timeout: 300_000 })
}
