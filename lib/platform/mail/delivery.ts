import { appDatabase } from '#lib/platform/database/app-database.ts'
import { env } from '#lib/platform/env.ts'
import { log } from '#lib/platform/log.ts'
import { deliverOutbox } from '#lib/platform/mail/outbox.ts'

const everyMs = 10_000

/** Looks for waiting mail every ten seconds, when an SMTP server is configured. One look at a time. */
export function startMailDelivery(): void {
  const { smtpUrl, mailFrom } = env()
  if (!smtpUrl) return
  const look = async () => {
    try {
      await deliverOutbox(appDatabase(), smtpUrl, mailFrom)
    } catch (error) {
      log.error('The outbox could not be read', { error })
    }
    setTimeout(look, everyMs).unref()
  }
  setTimeout(look, everyMs).unref()
}
