import type { Database } from '#lib/platform/database/database.ts'
import { tellOffered } from '#lib/swaps/tell-offered.ts'

/** What fell due. */
export interface Released {
  /** Offers made to people who waited. */
  readonly offers: number
  /** Claims whose sticks went back because nobody came. */
  readonly noShows: number
  /** Mails about offers written to the outbox. */
  readonly mails: number
}

/**
 * Does what is due in all groups: unanswered offers lapse and the next in line are asked, what nobody fetched goes
 * back at its stated time, and whoever was offered something gets a mail. Harmless to call at any time.
 *
 * @param siteUrl where the links of the mails lead
 */
export async function releaseDue(db: Database, siteUrl: string): Promise<Released> {
  const { rows } = await db.pool.query<{ offers: number; no_shows: number }>(
    'select offers, no_shows from release_due($1)',
    [db.now()],
  )
  const mails = await tellOffered(db, siteUrl)
  return { offers: rows[0]?.offers ?? 0, noShows: rows[0]?.no_shows ?? 0, mails }
}
