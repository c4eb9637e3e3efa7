import type { BrowserContext, Page } from 'playwright-core'
import { describe, expect, test } from 'vitest'
import { expectAccessible, expectNoSidewaysScroll, expectReadable, type Look } from './axe.ts'
import { daysFromToday, fill, pick, press, signInAs } from './pages.ts'
import { servedWorld } from './served-world.ts'

const world = servedWorld()
const group = '/g/marrow-lane'

/** A day and a time as a logger's program writes them, so many hours before a day. */
const moment = (day: string, hour: number) =>
  new Date(Date.parse(`${day}T00:00:00Z`) + hour * 3_600_000).toISOString().slice(0, 16).replace('T', ' ')

/** Five days of hours with a gap of two, in °F that nobody names, one row twice and one that is none. */
function loggerFile(): string {
  const day = daysFromToday(-20)
  const rows = Array.from({ length: 120 }, (_, hour) => hour)
    .filter((hour) => hour < 48 || hour >= 96)
    .map((hour) => `${hour + 1};${moment(day, hour)};${hour % 2 === 0 ? '37,4' : '39,2'}`)
  return ['Serial;4711', 'No;Date Time;Temperature', ...rows, rows[3], '200;never;37,4'].join('\n')
}

/** 20,000 rows, a reading every two minutes. */
function longFile(): string {
  const start = Date.parse(`${daysFromToday(-60)}T00:00:00Z`)
  const rows = Array.from(
    { length: 20_000 },
    (_, i) => `${new Date(start + i * 120_000).toISOString()},${(3 + Math.sin(i / 300)).toFixed(2)}`,
  )
  return `Timestamp,Probe temperature (°C)\n${rows.join('\n')}\n`
}

async function addStore(page: Page, name: string): Promise<string> {
  await page.goto(`${group}/wood/stores/new`)
  await fill(page, 'name', name)
  await pick(page, 'kind', 'fridge')
  await press(page, 'Add the store')
  await page.getByRole('heading', { level: 1, name }).waitFor()
  return new URL(page.url()).pathname
}

async function answerThePreview(page: Page, look: Look): Promise<void> {
  await page.waitForURL('**/import/**')
  await page.getByText('In which unit are the temperatures?').waitFor()
  await look(page)
  await pick(page, 'unit', 'F')
  await press(page, 'Look again')
  await page.waitForURL('**unit=F**')
  await page.getByRole('button', { name: 'Import 72 readings' }).waitFor()
  const words = (await page.locator('main').textContent()) ?? ''
  for (const said of [
    '3 °C, 3.5 °C, 4 °C',
    '1, counted once',
    '1 row left out',
    '“never” is not a day and a time',
  ]) {
    expect(words).toContain(said)
  }
  expect(words).toContain('1 gap of more than six hours')
  await look(page)
  await expectNoSidewaysScroll(page)
}

async function takeBack(page: Page, look: Look): Promise<void> {
  await page.getByRole('link', { name: /^Take back/ }).click()
  await page.waitForURL('**/imports/**')
  await press(page, 'Take 72 readings back')
  await page.getByText('Say why these readings are taken back').first().waitFor()
  await fill(page, 'reason', 'It lay in the other fridge')
  await look(page)
  await press(page, 'Take 72 readings back')
  await page.waitForURL('**done=taken-back**')
  await page.getByText('It lay in the other fridge').waitFor()
}

async function bringAndTakeBack(context: BrowserContext, name: string, look: Look): Promise<void> {
  const page = await context.newPage()
  await signInAs(page, 'Nell')
  const store = await addStore(page, name)
  await press(page, 'Look at the readings first')
  await page.getByText('Choose the logger’s file').first().waitFor()
  await fill(page, 'pasted', loggerFile())
  await press(page, 'Look at the readings first')
  await answerThePreview(page, look)
  await press(page, 'Import 72 readings')
  await page.waitForURL('**done=imported**')
  await page.getByText('72 readings are imported').waitFor()
  await page.locator('svg title', { hasText: `Temperature in ${name}` }).waitFor({ state: 'attached' })
  await look(page)
  await expectNoSidewaysScroll(page)
  await page.goto(store)
  await fill(page, 'pasted', loggerFile())
  await press(page, 'Look at the readings first')
  await page.waitForURL('**/import/**')
  await pick(page, 'unit', 'F')
  await press(page, 'Look again')
  await page.getByText('Every reading of this file is in the store already').waitFor()
  await page.goto(store)
  await takeBack(page, look)
  await context.close()
}

describe('a logger’s file, brought, looked at, imported and taken back', () => {
  test('with scripts', async () =>
    bringAndTakeBack(await world.visit(), 'Fridge with a logger', expectAccessible))

  test('without scripts', async () =>
    bringAndTakeBack(
      await world.visit({ javaScriptEnabled: false }),
      'Fridge without scripts',
      expectReadable,
    ))

  test('of 20,000 rows, as a file', async () => {
    const context = await world.visit()
    const page = await context.newPage()
    await signInAs(page, 'Nell')
    const store = await addStore(page, 'Fridge of many rows')
    const buffer = Buffer.from(longFile())
    await page.locator('[name="file"]').setInputFiles({ name: 'long.csv', mimeType: 'text/csv', buffer })
    await press(page, 'Look at the readings first')
    await press(page, 'Import 20000 readings')
    await page.waitForURL('**done=imported**')
    const file = await page.request.get(`${store}/csv`)
    expect(file.headers()['content-type']).toContain('text/csv')
    expect((await file.text()).trimEnd().split('\r\n')).toHaveLength(20_001)
    await context.close()
  })
})
