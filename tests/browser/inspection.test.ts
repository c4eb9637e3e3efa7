import type { BrowserContext, Page } from 'playwright-core'
import { describe, expect, test } from 'vitest'
import { verifyLedger } from '#lib/ledger/verify-ledger.ts'
import { expectAccessible, expectNoSidewaysScroll, expectReadable, type Look } from './axe.ts'
import { fill, pick, press, signInAs } from './pages.ts'
import { servedWorld } from './served-world.ts'

const world = servedWorld()
const group = '/g/marrow-lane'

/** The address of a lot with free sticks and no hold: the last or the one before it of the latest cut. */
async function freeLot(page: Page, nth: number): Promise<string> {
  await page.goto(`${group}/wood?state=free&sort=latest`)
  const links = page.locator('main a.code[href*="/wood/"]')
  const href = await links.nth(nth).getAttribute('href')
  if (href === null) throw new Error('No free lot in the demo world')
  return href
}

async function look(page: Page, answers: Readonly<Record<string, string>>): Promise<void> {
  for (const [name, value] of Object.entries(answers)) await pick(page, name, value)
}

const sound = { condition: '4', budStage: '0', mould: 'none', shrivel: 'none', nick: 'green' }

async function lookCorrectAndHold(context: BrowserContext, nth: number, lookAt: Look): Promise<void> {
  const page = await context.newPage()
  await signInAs(page, 'Nell')
  const lot = await freeLot(page, nth)
  await page.goto(lot)
  await page.getByRole('link', { name: 'Record a look' }).click()
  await page.waitForURL('**/inspect')
  await lookAt(page)
  await expectNoSidewaysScroll(page)
  await press(page, 'Save the look')
  await page.getByText('Say how the wood is on the whole').first().waitFor()
  await look(page, { ...sound, condition: '3', budStage: '3', mould: 'cut_ends' })
  await fill(page, 'note', 'The bag was wet')
  await press(page, 'Save the look')
  await page.waitForURL('**done=looked**')
  await page.getByText('mould, buds moving').first().waitFor()
  await page.getByText('The bag was wet').waitFor()
  await lookAt(page)
  await expectNoSidewaysScroll(page)

  await page
    .getByRole('link', { name: /^Correct it/ })
    .first()
    .click()
  await page.waitForURL('**correct=**')
  expect(await page.locator('[name="mould"][value="cut_ends"]').isChecked(), 'what was seen is kept').toBe(
    true,
  )
  await look(page, { budStage: '0', mould: 'none', decision: 'hold' })
  await press(page, 'Save the look')
  await page.getByText('Say what was seen').first().waitFor()
  expect(await page.locator('[name="decision"][value="hold"]').isChecked(), 'the answers are kept').toBe(true)
  await fill(page, 'reason', 'Ooze at the cut ends')
  await press(page, 'Save the look')
  await page.waitForURL('**done=looked**')
  await page.getByText('Ooze at the cut ends').first().waitFor()
  await page.getByText('another look stands in for this one').waitFor()
  await context.close()
}

describe('a look at a lot', () => {
  test('with scripts: seen, corrected, put on hold', async () =>
    lookCorrectAndHold(await world.visit(), 0, expectAccessible))

  test('without scripts', async () =>
    lookCorrectAndHold(await world.visit({ javaScriptEnabled: false }), 1, expectReadable))

  test('destroys the free sticks with its reason, and the ledger stays true', async () => {
    const context = await world.visit()
    const page = await context.newPage()
    await signInAs(page, 'Nell')
    const lot = await freeLot(page, 2)
    await page.goto(`${lot}/inspect`)
    await look(page, { ...sound, condition: '1', nick: 'brown', decision: 'reject' })
    await fill(page, 'reason', 'Brown through and through')
    await press(page, 'Save the look')
    await page.waitForURL('**done=looked**')
    await page.getByText('destroyed for it: Brown through and through').waitFor()
    expect(await verifyLedger(world.database.db)).toEqual([])
    await context.close()
  })
})
