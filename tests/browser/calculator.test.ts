import type { Page } from 'playwright-core'
import { describe, expect, test } from 'vitest'
import { expectAccessible, expectNoSidewaysScroll } from './axe.ts'
import { fill, press } from './pages.ts'
import { servedWorld } from './served-world.ts'

const world = servedWorld()

const phone = { viewport: { width: 390, height: 844 } } as const

async function ask(page: Page, cut: string, celsius: string): Promise<void> {
  await page.goto('/')
  await page.getByRole('link', { name: 'How long will this wood keep?' }).click()
  await page.waitForURL('**/window')
  await page.locator('[name="crop"]').selectOption('apple')
  await fill(page, 'cut', cut)
  await fill(page, 'celsius', celsius)
  await fill(page, 'swap', '2027-04-01')
  await press(page, 'How long will it keep?')
  await page.waitForURL('**/window?**')
}

describe.each([
  ['with scripts', true],
  ['without scripts', false],
])('the storage-window calculator, %s', (_, javaScriptEnabled) => {
  test('answers anybody, by an address that can be passed on, as the data does', async () => {
    const context = await world.visit({ ...phone, javaScriptEnabled })
    const page = await context.newPage()
    await ask(page, '2027-01-11', '4')
    const shown = await page.locator('#keeps').textContent()
    expect(shown).toContain('likely to keep to mid May')
    await expectNoSidewaysScroll(page)

    const data = await context.request.get(page.url().replace('/window?', '/api/window?'))
    expect(data.status()).toBe(200)
    const answer = (await data.json()) as {
      readonly window: { readonly likely: string }
      readonly days: Readonly<Record<string, number>>
      readonly words: readonly string[]
    }
    expect(answer.days).toEqual({ early: 70, likely: 125, late: 218 })
    expect(answer.window.likely).toBe('2027-05-16')
    const text = (await page.locator('#main').textContent()) ?? ''
    expect(answer.words.length).toBeGreaterThan(3)
    for (const words of answer.words) expect(text).toContain(words)

    const other = await (await world.visit({ ...phone, javaScriptEnabled })).newPage()
    await other.goto(page.url())
    expect(await other.locator('#keeps').textContent()).toBe(shown)
  })

  test('says at its field what cannot be answered, and keeps what was entered', async () => {
    const context = await world.visit({ ...phone, javaScriptEnabled })
    const page = await context.newPage()
    await ask(page, '2027-01-11', '-80')
    await page.getByRole('heading', { name: 'One thing to put right' }).waitFor()
    const field = page.locator('[name="celsius"]')
    expect(await field.inputValue()).toBe('-80')
    expect(await field.getAttribute('aria-invalid')).toBe('true')
    expect(await page.locator('[name="crop"]').inputValue()).toBe('apple')
    if (javaScriptEnabled) await expectAccessible(page)

    const data = await context.request.get(page.url().replace('/window?', '/api/window?'))
    expect(data.status()).toBe(400)
    expect(Object.keys(((await data.json()) as { readonly errors: object }).errors)).toEqual(['celsius'])
  })
})
