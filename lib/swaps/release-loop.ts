import { appDatabase } from '#lib/platform/database/app-database.ts'
import { env } from '#lib/platform/env.ts'
import { log } from '#lib/platform/log.ts'
import { releaseDue } from '#lib/swaps/release-due.ts'

const everyMs = 10_000

/** Does what is due for the waiting lists and for sticks nobody fetched, every ten seconds. One look at a time. */
export function startReleases(): void {
  const { nextAuthUrl } = env()
  const look = async () => {
    try {
      const { offers, noShows, mails } = await releaseDue(appDatabase(), nextAuthUrl)
      if (offers + noShows + mails > 0) log.info('Shares were passed on', { offers, noShows, mails })
    } catch (error) {
      log.error('What is due in the swaps could not be done', { error })
    }
    setTimeout(look, everyMs).unref()
  }
  setTimeout(look, everyMs).unref()
}
