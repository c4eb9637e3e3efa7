import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import type { Database, Queries } from '#lib/platform/database/database.ts'
import { transact } from '#lib/platform/database/transact.ts'
import { env } from '#lib/platform/env.ts'
import { makeToken, readToken } from '#lib/platform/secret-token.ts'

/** The kinds of mail that somebody can stop. */
export const mailKinds = ['reminders', 'week-mail'] as const
export type MailKind = (typeof mailKinds)[number]

export interface MailChoice {
  readonly reminders: boolean
  readonly weekMail: boolean
}

export interface Recipient {
  readonly groupId: string
  readonly memberId: string
}

/** Which mails somebody gets: all, until they say otherwise. */
export async function mailChoiceOf(tx: Queries, { groupId, memberId }: Recipient): Promise<MailChoice> {
  const row = await tx.mailChoice.findUnique({ where: { groupId_memberId: { groupId, memberId } } })
  return { reminders: row?.reminders ?? true, weekMail: row?.digest ?? true }
}

/** Which mails the person who asks gets. */
export const getMailChoice = (db: Database, recipient: Recipient): Promise<MailChoice> =>
  mailChoiceOf(db.prisma, recipient)

/** Says which mails somebody wants from now on. */
export async function setMailChoice(
  tx: Queries,
  db: Database,
  { groupId, memberId }: Recipient,
  choice: Partial<MailChoice>,
): Promise<void> {
  const changed = {
    ...(choice.reminders === undefined ? {} : { reminders: choice.reminders }),
    ...(choice.weekMail === undefined ? {} : { digest: choice.weekMail }),
    changedAt: db.now(),
  }
  await tx.mailChoice.upsert({
    where: { groupId_memberId: { groupId, memberId } },
    create: { groupId, memberId, ...changed },
    update: changed,
  })
}

const purposeOf = { reminders: 'stop-reminders', 'week-mail': 'stop-week-mail' } as const

/** The addresses at the foot of a mail: the page that stops such mails, and the one request that does (RFC 8058). */
export function stopAddresses(
  baseUrl: string,
  kind: MailKind,
  { groupId, memberId }: Recipient,
  secret: string = env().nextAuthSecret,
): { readonly page: string; readonly oneClick: string } {
  const page = `${baseUrl}/answer/stop/${kind}/${makeToken(secret, purposeOf[kind], [groupId, memberId])}`
  return { page, oneClick: `${page}/now` }
}

/** Whose mails a link stops; null when this installation did not sign it. */
function recipientOf(kind: MailKind, token: string, secret: string = env().nextAuthSecret): Recipient | null {
  const [groupId, memberId] = readToken(secret, purposeOf[kind], token) ?? []
  return groupId && memberId ? { groupId, memberId } : null
}

export interface MailStopPage {
  readonly groupName: string
  readonly person: string
  readonly isOn: boolean
}

/** What the page of such a link shows. Looking changes nothing. */
export async function getMailStop(
  db: Database,
  kind: MailKind,
  token: string,
  secret?: string,
): Promise<MailStopPage | null> {
  const recipient = recipientOf(kind, token, secret)
  if (!recipient) return null
  const { groupId, memberId } = recipient
  const member = await db.prisma.member.findUnique({
    where: { groupId_id: { groupId, id: memberId } },
    select: { displayName: true, group: { select: { name: true } } },
  })
  if (!member) return null
  const choice = await mailChoiceOf(db.prisma, recipient)
  const isOn = kind === 'reminders' ? choice.reminders : choice.weekMail
  return { groupName: member.group.name, person: member.displayName, isOn }
}

/** Stops one kind of mail, or takes it up again, through the link at the foot of one. */
export async function switchMailByLink(
  db: Database,
  input: { readonly kind: MailKind; readonly token: string; readonly on: boolean },
  secret?: string,
): Promise<Result<{ readonly on: boolean }, { readonly kind: 'link-unknown' }>> {
  return transact(db, async (tx) => {
    const recipient = recipientOf(input.kind, input.token, secret)
    const member =
      recipient &&
      (await tx.member.findUnique({
        where: { groupId_id: { groupId: recipient.groupId, id: recipient.memberId } },
        select: { id: true },
      }))
    if (!recipient || !member) return refuse({ kind: 'link-unknown' as const })
    const choice = input.kind === 'reminders' ? { reminders: input.on } : { weekMail: input.on }
    await setMailChoice(tx, db, recipient, choice)
    return ok({ on: input.on })
  })
}
