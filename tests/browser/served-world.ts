import type { Browser, BrowserContext } from 'playwright-core'
import { afterAll, beforeAll } from 'vitest'
import { required } from '#lib/kernel/assert.ts'
import { launchBrowser, type RunningApp, startApp, type VisitOptions, visit } from '#tests/support/browser.ts'
import { type TestDatabase, testDatabase } from '#tests/support/database.ts'

/** The demo world behind the built application, and a browser to visit it with. */
export interface ServedWorld {
  readonly database: TestDatabase
  readonly visit: (options?: VisitOptions) => Promise<BrowserContext>
  /** Where it answers. Only inside tests and hooks. */
  readonly address: () => string
}

export interface ServedWorldOptions {
  /** Further variables of the application's environment. */
  readonly env?: Readonly<Record<string, string>>
}

/** Serves a demo world of its own to the calling file. Call it once, at the top level. */
export function servedWorld(options: ServedWorldOptions = {}): ServedWorld {
  const database = testDatabase({ demo: true })
  let app: RunningApp | null = null
  let browser: Browser | null = null
  beforeAll(async () => {
    app = await startApp({ databaseUrl: database.url, ...options })
    browser = await launchBrowser()
  })
  afterAll(async () => {
    await browser?.close()
    await app?.stop()
  })
  return {
    database,
    visit: (visitOptions = {}) =>
      visit(required(browser, 'the browser'), required(app, 'the application'), visitOptions),
    address: () => required(app, 'the application').url,
  }
}
