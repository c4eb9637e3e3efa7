import { Pool } from 'pg'
import { readInstallation } from '#lib/platform/database/installation.ts'
import type { OpenedDatabase } from './database.ts'
import type { StartSettings } from './settings.ts'

/** The lines that say where Tallywood is, how to sign in, and where mail goes. */
export async function welcome(settings: StartSettings, database: OpenedDatabase): Promise<string> {
  const pool = new Pool({ connectionString: database.url, max: 1 })
  try {
    const { isDemo } = await readInstallation(pool)
    return [
      '',
      `Tallywood is at ${settings.address}`,
      '',
      ...(isDemo ? await demoLines(settings.address) : ['Sign in with your own account.']),
      '',
      process.env['SMTP_URL']
        ? `Mail goes out through ${new URL(process.env['SMTP_URL']).host}.`
        : `Mail goes nowhere (SMTP_URL is not set): read it at ${settings.address}/outbox`,
      `Data: ${database.place}`,
      'Ctrl-C stops everything.',
      '',
    ].join('\n')
  } finally {
    await pool.end()
  }
}

async function demoLines(address: string): Promise<string[]> {
  const { demoPeople } = await import('#seed/demo/people-summary.ts')
  const people = demoPeople()
  const width = Math.max(...people.map(({ name }) => name.length))
  return [
    `This is the demo world. Sign in at ${address}/sign-in as any of these:`,
    ...people.map(({ name, kind, email }) => `  ${name.padEnd(width)}  ${kind} · ${email}`),
  ]
}
