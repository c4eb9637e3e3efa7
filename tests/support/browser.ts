import { randomBytes } from 'node:crypto'
import { type Browser, type BrowserContext, type BrowserContextOptions, chromium } from 'playwright-core'
import { findFreePort } from '#lib/platform/embedded/free-port.ts'
import { startWebServer, waitForAnswer } from '../../scripts/start/web-server.ts'
import { findChromium } from './chromium.ts'

/** A headless Chromium. The caller closes it. */
export async function launchBrowser(): Promise<Browser> {
  const { path, env } = await findChromium()
  return chromium.launch({
    executablePath: path,
    headless: true,
    args: ['--no-sandbox', '--disable-gpu', '--disable-dev-shm-usage'],
    env: { ...process.env, ...env },
  })
}

/** The built application, served for a test. */
export interface RunningApp {
  readonly url: string
  readonly stop: () => Promise<void>
}

export interface AppOptions {
  readonly databaseUrl: string
  /** Moves the calendar. */
  readonly clockOffsetDays?: number
  /** Further variables of the environment. */
  readonly env?: Readonly<Record<string, string>>
}

/** Serves the built pages on a free port over a database. The caller stops it before the database goes. */
export async function startApp(options: AppOptions): Promise<RunningApp> {
  const port = await findFreePort()
  const url = `http://localhost:${port}`
  const server = startWebServer({
    isDev: false,
    port,
    env: {
      ...process.env,
      NODE_ENV: 'production',
      DATABASE_URL: options.databaseUrl,
      TALLYWOOD_DATABASE: 'trial',
      TALLYWOOD_CLOCK_OFFSET_DAYS: String(options.clockOffsetDays ?? 0),
      NEXTAUTH_URL: url,
      NEXTAUTH_SECRET: randomBytes(32).toString('base64'),
      ...options.env,
    },
  })
  try {
    await waitForAnswer(port, server.ended)
  } catch (error) {
    await server.stop()
    throw error
  }
  return { url, stop: server.stop }
}

export interface VisitOptions extends BrowserContextOptions {
  /** Off for what has to work without scripts. */
  readonly javaScriptEnabled?: boolean
}

/** A phone's window on the running application: 390 px wide unless said otherwise. */
export function visit(
  browser: Browser,
  app: RunningApp,
  options: VisitOptions = {},
): Promise<BrowserContext> {
  return browser.newContext({
    baseURL: app.url,
    viewport: { width: 390, height: 844 },
    locale: 'en-GB',
    timezoneId: 'Europe/London',
    ...options,
  })
}
