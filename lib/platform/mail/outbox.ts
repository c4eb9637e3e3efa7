import { createTransport } from 'nodemailer'
import type { Database } from '#lib/platform/database/database.ts'
import { log } from '#lib/platform/log.ts'

export interface SentMail {
  readonly id: string
  readonly to: string
  readonly subject: string
  readonly body: string
  readonly createdAt: Date
  readonly sentAt: Date | null
  readonly lastError: string | null
}

/** The newest mails, sent or waiting: what the local outbox page shows when no mail server is configured. */
export async function readOutbox(db: Database, limit = 50): Promise<SentMail[]> {
  const rows = await db.prisma.outboxMail.findMany({ orderBy: { createdAt: 'desc' }, take: limit })
  return rows.map((row) => ({
    id: row.id,
    to: row.toAddress,
    subject: row.subject,
    body: row.body,
    createdAt: row.createdAt,
    sentAt: row.sentAt,
    lastError: row.lastError,
  }))
}

interface WaitingMail {
  readonly id: string
  readonly to_address: string
  readonly subject: string
  readonly body: string
  readonly unsubscribe_url: string | null
  readonly tries: number
}

/** Lets a mail program stop such mails with one request (RFC 2369, RFC 8058). */
const unsubscribeHeaders = (url: string | null): Record<string, string> =>
  url ? { 'List-Unsubscribe': `<${url}>`, 'List-Unsubscribe-Post': 'List-Unsubscribe=One-Click' } : {}

const firstWaitMs = 60_000
const mostTries = 8

/**
 * Sends what waits in the outbox, oldest first, through an SMTP server. A mail that the server refuses waits
 * twice as long each time and is given up after eight tries, with the server's words kept beside it.
 *
 * @returns how many went out
 */
export async function deliverOutbox(db: Database, smtpUrl: string, from: string): Promise<number> {
  const transport = createTransport(smtpUrl)
  let sent = 0
  try {
    for (;;) {
      const more = await db.prisma.$transaction(
        async (tx) => {
          const [mail] = await tx.$queryRaw<WaitingMail[]>`
            select id, to_address, subject, body, unsubscribe_url, tries from outbox_mail
            where sent_at is null and send_after <= now() and tries < ${mostTries}
            order by created_at limit 1 for update skip locked`
          if (!mail) return false
          try {
            await transport.sendMail({
              from,
              to: mail.to_address,
              subject: mail.subject,
              text: mail.body,
              messageId: `<${mail.id}@tallywood>`,
              headers: unsubscribeHeaders(mail.unsubscribe_url),
            })
            await tx.outboxMail.update({
              where: { id: mail.id },
              data: { sentAt: new Date(), lastError: null },
            })
            sent++
          } catch (error) {
            const words = error instanceof Error ? error.message : String(error)
            log.warn('A mail could not be sent and will be tried again', { mail: mail.id, words })
            await tx.outboxMail.update({
              where: { id: mail.id },
              data: {
                tries: mail.tries + 1,
                lastError: words,
                sendAfter: new Date(Date.now() + firstWaitMs * 2 ** mail.tries),
              },
            })
          }
          return true
        },
        { timeout: 60_000 },
      )
      if (!more) return sent
    }
  } finally {
    transport.close()
  }
}
