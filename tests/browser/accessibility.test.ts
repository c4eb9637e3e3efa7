import type { BrowserContext, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { expectAccessible, expectNoSidewaysScroll } from './axe.ts'
import { signInAs } from './pages.ts'
import { servedWorld } from './served-world.ts'

const world = servedWorld()
const group = '/g/marrow-lane'

const publicPages = [
  '/',
  '/sign-in',
  '/sign-in/link?token=x',
  '/outbox',
  '/answer/x',
  '/nowhere',
  '/window',
  '/window?crop=apple&cut=2027-01-11&celsius=4&swap=2027-04-01&rate=60',
  '/window?crop=&cut=never',
]

const pages = [
  group,
  '/g',
  '/account',
  `${group}/more`,
  `${group}/wood`,
  `${group}/wood/log`,
  `${group}/wood/find`,
  `${group}/wood/stores`,
  `${group}/trees`,
  `${group}/trees/new`,
  `${group}/varieties`,
  `${group}/varieties/new`,
  `${group}/swaps`,
  `${group}/swaps/new`,
  `${group}/grafts`,
  `${group}/grafts/new`,
  `${group}/grafts/morning`,
  `${group}/results`,
  `${group}/health`,
  `${group}/people`,
  `${group}/people/invite`,
  `${group}/people/add`,
  `${group}/people/log`,
  `${group}/settings`,
  `${group}/settings/ledger`,
  `${group}/settings/mails`,
]

/** Pages that are reached through a list: the list, and the link to follow. */
const behindALink: readonly (readonly [string, string])[] = [
  [`${group}/wood`, 'main a.code'],
  [`${group}/wood/stores`, 'main li a'],
  [`${group}/trees`, 'main li a, main td a, main th a'],
  [`${group}/varieties`, 'main li a, main td a, main th a'],
  [`${group}/people`, 'main li a, main td a, main th a'],
  [`${group}/swaps`, 'main h2 a, main h3 a, main li a'],
]

async function look(page: Page, path: string): Promise<void> {
  await page.goto(path)
  await expectAccessible(page)
  await expectNoSidewaysScroll(page)
}

const kinds = [
  { name: 'a phone', options: { viewport: { width: 390, height: 844 } } },
  {
    name: 'a narrow phone in the dark',
    options: { viewport: { width: 320, height: 700 }, colorScheme: 'dark' },
  },
  { name: 'a desk', options: { viewport: { width: 1280, height: 900 } } },
] as const

describe.each(kinds)('axe finds nothing and nothing scrolls sideways on $name', ({ options }) => {
  let context: BrowserContext
  let page: Page

  beforeAll(async () => {
    context = await world.visit(options)
    page = await context.newPage()
  })
  afterAll(() => context.close())

  test.each(publicPages)('%s, signed out', (path) => look(page, path))

  test('the pages of a group, signed in as the organiser', async () => {
    await signInAs(page, 'Nell')
    for (const path of pages) await look(page, path)
  })

  test('the pages behind a link', async () => {
    for (const [list, link] of behindALink) {
      await page.goto(list)
      const href = await page.locator(link).first().getAttribute('href')
      expect(href, `a link on ${list}`).toBeTruthy()
      await look(page, href ?? list)
      if (list === `${group}/wood`)
        for (const part of ['/inspect', '/split']) await look(page, `${href}${part}`)
    }
  })

  test('a swap: catalogue, claim, own list, offering, hand-over, printed lists', async () => {
    await page.goto(`${group}/swaps`)
    const swap = await page
      .locator('main a[href*="/swaps/"]:not([href$="/new"])')
      .first()
      .getAttribute('href')
    for (const part of [
      '',
      '/yours',
      '/offer',
      '/settings',
      '/settings/cutting',
      '/wishes',
      '/promises',
      '/call',
      '/hand-over',
      '/hand-over/walk-up',
      '/list',
      '/print',
      '/review',
    ]) {
      await look(page, `${swap}${part}`)
    }
    await page.goto(`${swap}`)
    const claim = await page.locator('a[href*="/claim/"]').first().getAttribute('href')
    expect(claim, 'something to claim').toBeTruthy()
    await look(page, `${claim}`)
  })
})
