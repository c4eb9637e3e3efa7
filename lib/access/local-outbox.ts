import { connection } from 'next/server'
import { appDatabase } from '#lib/platform/database/app-database.ts'
import { readInstallation } from '#lib/platform/database/installation.ts'
import { env } from '#lib/platform/env.ts'
import { readOutbox, type SentMail } from '#lib/platform/mail/outbox.ts'

/**
 * The mail that stayed here for want of a mail server; null where reading it would hand out other people's
 * sign-in links, that is in production over a group's own database.
 */
export async function localOutbox(): Promise<SentMail[] | null> {
  await connection()
  const { smtpUrl, isProduction } = env()
  const db = appDatabase()
  if (smtpUrl) return null
  if (isProduction && !(await readInstallation(db.pool)).isDemo) return null
  return readOutbox(db)
}
