import type { BrowserContext, Page } from 'playwright-core'
import { describe, expect, test } from 'vitest'
import { verifyLedger } from '#lib/ledger/verify-ledger.ts'
import { expectNoSidewaysScroll } from './axe.ts'
import { chooseContaining, daysFromToday, fill, pick, press, signInAs } from './pages.ts'
import { servedWorld } from './served-world.ts'

const world = servedWorld()
const group = '/g/marrow-lane'

/** Signs in with a link out of the mail, as somebody who has no password does. */
async function signInByMail(page: Page, email: string): Promise<void> {
  await page.goto('/sign-in')
  await page.locator('#by-link [name="email"]').fill(email)
  await press(page, 'Send me a sign-in link')
  await page.getByText('a link is on its way').waitFor()
  await page.goto('/outbox')
  await page.locator('li', { hasText: email }).first().getByRole('link').first().click()
  await press(page, 'Sign me in')
  await page.waitForURL('**/g/**')
}

async function addVarietyTreeAndStore(page: Page, name: string): Promise<void> {
  await page.goto(`${group}/varieties/new`)
  await chooseContaining(page, 'taxonKey', 'Malus domestica')
  await fill(page, 'name', name)
  await pick(page, 'nameCertainty', 'settled')
  await pick(page, 'protection', 'none_known')
  await press(page, 'Add the variety')
  await page.getByRole('heading', { level: 1, name }).waitFor()

  await page.goto(`${group}/trees/new`)
  await chooseContaining(page, 'limbs.0.varietyId', name)
  await pick(page, 'limbs.0.identity', 'fruited_true')
  await fill(page, 'place', 'by the gate')
  await press(page, 'Add the tree')
  await page.waitForURL(/\/trees\/[2-9A-Z]{6}/)

  await page.goto(`${group}/wood/stores/new`)
  await fill(page, 'name', `Fridge of ${name}`)
  await chooseContaining(page, 'kind', 'ridge')
  await press(page, 'Add the store')
  await page.getByRole('heading', { level: 1, name: `Fridge of ${name}` }).waitFor()
}

/** Logs one lot of eight sticks and returns its code as it is printed. */
async function cutWood(page: Page, name: string): Promise<string> {
  await page.goto(`${group}/wood/log`)
  await pick(page, 'toolCare', 'wiped_between_trees')
  await chooseContaining(page, 'lots.0.limbId', name)
  await fill(page, 'lots.0.sticks', '8')
  await chooseContaining(page, 'lots.0.storeId', `Fridge of ${name}`)
  await press(page, 'Save and print labels')
  await page.waitForURL('**/wood/sessions/**')
  const code = (await page.locator('main .code').first().textContent()) ?? ''
  expect(code).toMatch(/^[2-9A-HJKMNP-Z]{3}-[2-9A-HJKMNP-Z]{3}$/)
  await expect(page.locator('main').textContent()).resolves.toContain('likely')
  return code
}

async function seeTheLabel(page: Page, code: string): Promise<void> {
  await page.goto(`${group}/wood/${code.replace('-', '')}`)
  await page
    .locator('svg[aria-labelledby] title', { hasText: 'keeps' })
    .first()
    .waitFor({ state: 'attached' })
  await page.goto(`${group}/wood/${code.replace('-', '')}/label`)
  await page.getByText(code).first().waitFor()
}

/** Plans a swap with six shares of one stick, and opens it. Returns its address. */
async function planAndOpenSwap(page: Page, name: string, code: string): Promise<string> {
  await page.goto(`${group}/swaps/new`)
  await fill(page, 'name', `Swap for ${name}`)
  await fill(page, 'heldOn', daysFromToday(9))
  await fill(page, 'place', 'Marrow Lane hall')
  await fill(page, 'claimsOpenOn', daysFromToday(-1))
  await fill(page, 'claimsCloseOn', daysFromToday(5))
  await fill(page, 'capPerMember', '10')
  await fill(page, 'capPerVariety', '6')
  await press(page, 'Plan this swap')
  await page.waitForURL('**/offer**')
  const row = page.locator('li', { hasText: code })
  await row.locator('input[type="checkbox"]').check()
  await row.locator('[name$=".sticksPerShare"]').fill('1')
  await row.locator('[name$=".shares"]').fill('6')
  await press(page, 'Offer the ticked lots')
  await page.getByText('Offered. Members see them').waitFor()
  const swap = new URL(page.url()).pathname.replace(/\/offer$/, '')
  await page.goto(`${swap}/settings`)
  await press(page, /^Open/)
  await page.waitForURL('**done=opened**')
  return swap
}

async function claim(page: Page, swap: string, name: string, sticks: string): Promise<void> {
  await page.goto(`${swap}?search=${encodeURIComponent(name.toLowerCase())}`)
  await page
    .getByRole('link', { name: /^Claim/ })
    .first()
    .click()
  await page.waitForURL('**/claim/**')
  await fill(page, 'shares', sticks)
  await press(page, 'Claim')
}

async function claimGiveBackAndClaimAgain(page: Page, swap: string, name: string): Promise<void> {
  await claim(page, swap, name, '7')
  await page
    .getByText(/At most|Only 6|limit|Each member/)
    .first()
    .waitFor()
  await claim(page, swap, name, '2')
  await page.waitForURL('**claimed=**')
  await page.getByText('You claimed 2 sticks').first().waitFor()
  await press(page, /^Give it back|^Give back/)
  await page.waitForURL('**given-back**')
  await claim(page, swap, name, '6')
  await page.waitForURL('**claimed=**')
  await page.goto(`${swap}?search=${encodeURIComponent(name)}`)
  await page.getByText('You claimed 6 sticks').first().waitFor()
}

async function handOverAll(page: Page, swap: string, person: string): Promise<void> {
  await page.goto(`${swap}/hand-over`)
  await page
    .getByRole('link', { name: new RegExp(person) })
    .first()
    .click()
  await page.waitForURL('**/hand-over/**')
  await press(page, 'Hand over 6')
  await page.getByText('Has everything').waitFor()
}

async function graftAndLook(page: Page, name: string): Promise<void> {
  await page.goto(`${group}/grafts/new`)
  await page.locator('li', { hasText: name }).getByRole('link').last().click()
  await page.waitForURL('**lot=**')
  await page.locator('[name="method"]').first().waitFor({ state: 'attached' })
  await pick(page, 'method', 'whip-and-tongue')
  await fill(page, 'pieces', '6')
  await fill(page, 'stock', 'MM106')
  await press(page, 'Save the batch')
  await page.waitForURL(/\/grafts\/[0-9a-f-]{36}/)
  await page.goto(`${new URL(page.url()).pathname}/check`)
  await fill(page, 'alive', '4')
  await fill(page, 'dead', '1')
  await fill(page, 'unknown', '0')
  await press(page, 'Save what I saw')
  await page.getByRole('alert').first().waitFor()
  expect(await page.locator('[name="alive"]').inputValue(), 'the entries are kept').toBe('4')
  await fill(page, 'dead', '2')
  await press(page, 'Save what I saw')
  await page.waitForURL((url) => !url.pathname.endsWith('/check'))
}

async function walkTheSlice(context: BrowserContext, other: BrowserContext, name: string): Promise<void> {
  const nell = await context.newPage()
  const wren = await other.newPage()
  await signInByMail(nell, 'nell.fairweather@marrowlane.example')
  await addVarietyTreeAndStore(nell, name)
  const code = await cutWood(nell, name)
  await seeTheLabel(nell, code)
  const swap = await planAndOpenSwap(nell, name, code)
  await signInAs(wren, 'Wren')
  await claimGiveBackAndClaimAgain(wren, swap, name)
  await handOverAll(nell, swap, 'Wren')
  await graftAndLook(wren, name)
  await wren.goto(`${group}/results`)
  const row = wren.locator('main :is(tr, li):visible', { hasText: name }).first()
  expect(await row.textContent()).toContain('4 of 6')
  await expectNoSidewaysScroll(wren)
  expect(await verifyLedger(world.database.db)).toEqual([])
}

describe('a stick of wood, from the tree to the rate', () => {
  test('with scripts', async () => {
    const organiser = await world.visit()
    const member = await world.visit()
    await walkTheSlice(organiser, member, 'Journey Pippin')
    await organiser.close()
    await member.close()
  })

  test('without scripts', async () => {
    const organiser = await world.visit({ javaScriptEnabled: false })
    const member = await world.visit({ javaScriptEnabled: false })
    await walkTheSlice(organiser, member, 'Quiet Codlin')
    await organiser.close()
    await member.close()
  })
})
