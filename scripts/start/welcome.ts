import { openDatabase } from '#lib/platform/database/database.ts'
import { readInstallation } from '#lib/platform/database/installation.ts'
import { demoPeople } from '#seed/demo/people-summary.ts'
import type { OpenedDatabase } from './database.ts'
import type { StartSettings } from './settings.ts'

/** The lines that say where Tallywood is, how to sign in, and where mail goes. */
export async function welcome(settings: StartSettings, database: OpenedDatabase): Promise<string> {
  const db = openDatabase(database.url, { max: 1 })
  try {
    const { isDemo } = await readInstallation(db.pool)
    return [
      '',
      `Tallywood is at ${settings.address}`,
      '',
      ...(isDemo
        ? [
            `This is an invented group to look around in. Sign in at ${settings.address}/sign-in as one of these:`,
            ...(await demoPeople(db)).map(
              ({ displayName, email, about }) => `  ${displayName} (${email})\n      ${about}`,
            ),
          ]
        : [`Sign in with your own account at ${settings.address}/sign-in`]),
      '',
      mailLine(settings, isDemo),
      `The data are in ${database.place}`,
      'Ctrl-C stops everything.',
      '',
    ].join('\n')
  } finally {
    await db.close()
  }
}

function mailLine({ address, isOwnProduction }: StartSettings, isDemo: boolean): string {
  const smtpUrl = process.env['SMTP_URL']
  if (smtpUrl) return `Mail goes out through ${new URL(smtpUrl).host}.`
  return isDemo || !isOwnProduction
    ? `Mail goes nowhere (SMTP_URL is not set): read it at ${address}/outbox`
    : 'Mail waits in the database until there is an SMTP_URL; until then nobody can be sent a sign-in link.'
}
