import type { Page } from 'playwright-core'

/** A day of the calendar, so many days from now, as a date control takes it. */
export function daysFromToday(days: number): string {
  return new Date(Date.now() + days * 86_400_000).toISOString().slice(0, 10)
}

/** Signs in with the button of one of the invented people. */
export async function signInAs(page: Page, name: string): Promise<void> {
  await page.goto('/sign-in')
  await page.getByRole('button', { name: new RegExp(name) }).click()
  await page.waitForURL('**/g/**')
}

export async function fill(page: Page, name: string, value: string): Promise<void> {
  await page.locator(`[name="${name}"]`).fill(value)
}

/** Ticks one answer of a question with bordered rows. */
export async function pick(page: Page, name: string, value: string): Promise<void> {
  const control = page.locator(`[name="${name}"]`).first()
  if ((await control.evaluate((element) => element.tagName)) === 'SELECT') await control.selectOption(value)
  else await page.locator(`[name="${name}"][value="${value}"]`).check()
}

/** Chooses the first entry of a list, or row of a question, whose words hold `words`. */
export async function chooseContaining(page: Page, name: string, words: string): Promise<void> {
  const control = page.locator(`[name="${name}"]`).first()
  if ((await control.evaluate((element) => element.tagName)) === 'SELECT') {
    const value = await control.locator('option', { hasText: words }).first().getAttribute('value')
    if (value === null) throw new Error(`Nothing to choose with ${words} in ${name}`)
    await control.selectOption(value)
  } else {
    await page.locator('label', { hasText: words }).locator(`[name="${name}"]`).first().check()
  }
}

export async function press(page: Page, name: string | RegExp): Promise<void> {
  await page
    .getByRole('button', { name, exact: typeof name === 'string' })
    .first()
    .click()
}
