import axe from 'axe-core'
import type { Page } from 'playwright-core'
import { expect } from 'vitest'

const rules = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice']

/** Fails with a readable list when axe finds anything on the page as it stands. */
export async function expectAccessible(page: Page): Promise<void> {
  await page.evaluate(axe.source)
  const found = await page.evaluate(async (tags) => {
    const { axe: engine } = window as unknown as { axe: typeof import('axe-core') }
    const { violations } = await engine.run(document, { runOnly: tags })
    return violations.map(
      ({ id, help, nodes }) => `${id}: ${help}: ${nodes.map((node) => node.html).join(' · ')}`,
    )
  }, rules)
  expect(found, `axe on ${page.url()}`).toEqual([])
}

export type Look = (page: Page) => Promise<void>

/** What can be looked at on a page without scripts: axe waits for timers, which such a page does not have. */
export const expectReadable: Look = (page) => expectNoSidewaysScroll(page)

/** Fails when the page can be scrolled sideways. */
export async function expectNoSidewaysScroll(page: Page): Promise<void> {
  const beyond = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth)
  expect(beyond, `sideways scroll on ${page.url()}`).toBeLessThanOrEqual(0)
}
