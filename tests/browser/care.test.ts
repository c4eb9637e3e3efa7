import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import ICAL from 'ical.js'
import type { BrowserContext, Page } from 'playwright-core'
import sharp from 'sharp'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { required } from '#lib/kernel/assert.ts'
import { verifyLedger } from '#lib/ledger/verify-ledger.ts'
import { expectAccessible, expectNoSidewaysScroll } from './axe.ts'
import { chooseContaining, daysFromToday, fill, pick, press, signInAs } from './pages.ts'
import { servedWorld } from './served-world.ts'

const photoFolder = await mkdtemp(join(tmpdir(), 'tallywood-photos-'))
const world = servedWorld({ env: { PHOTO_FOLDER: photoFolder } })
const group = '/g/marrow-lane'

afterAll(() => rm(photoFolder, { recursive: true, force: true }))

async function check(page: Page, path: string): Promise<void> {
  await page.goto(path)
  await expectAccessible(page)
  await expectNoSidewaysScroll(page)
}

/** The event of a day in the calendar under an address. */
async function eventIn(page: Page, address: string, uid: string): Promise<ICAL.Event> {
  const answer = await page.request.get(address)
  expect(answer.headers()['content-type']).toBe('text/calendar; charset=utf-8')
  const calendar = new ICAL.Component(ICAL.parse(await answer.text()))
  const events = calendar.getAllSubcomponents('vevent').map((component) => new ICAL.Event(component))
  return required(
    events.find((event) => event.uid === uid),
    `the event ${uid}`,
  )
}

describe.each([
  ['with scripts', true],
  ['without', false],
] as const)('a morning’s work and its care, on a phone, %s', (_name, javaScriptEnabled) => {
  let context: BrowserContext
  let page: Page
  let entry: string

  beforeAll(async () => {
    context = await world.visit({ javaScriptEnabled })
    page = await context.newPage()
    await signInAs(page, 'Nell')
  })
  afterAll(() => context.close())

  test('is entered row by row, of one wood', async () => {
    await page.goto(`${group}/grafts/morning`)
    await fill(page, 'madeOn', daysFromToday(-80))
    await pick(page, 'method', 'cleft')
    await pick(page, 'wrap', 'string')
    const wood = page.locator('[name="rows.0.wood"] option[value^="variety:"]').first()
    await pick(page, 'rows.0.wood', required(await wood.getAttribute('value'), 'a variety'))
    await fill(page, 'rows.0.pieces', '12')
    await fill(page, 'rows.1.pieces', '3')
    await press(page, 'Save the morning')
    await page.getByText('The morning’s work is on record').waitFor()
    const { db } = world.database
    const made = await db.prisma.attempt.findMany({ orderBy: { createdAt: 'desc' }, take: 2 })
    expect(made.map(({ pieces, batchPlace }) => [batchPlace, pieces]).toSorted()).toEqual([
      [1, 12],
      [2, 3],
    ])
    entry = `${group}/grafts/${
      required(
        made.find(({ batchPlace }) => batchPlace === 1),
        'the first',
      ).id
    }`
    expect(await verifyLedger(db)).toEqual([])
  })

  test('says what to think of before it is saved, and saves nothing then', async () => {
    const before = await world.database.db.prisma.attempt.count()
    await page.goto(`${group}/grafts/new?own=1`)
    await chooseContaining(page, 'varietyId', 'Bramley')
    await pick(page, 'method', 'bark')
    await fill(page, 'pieces', '2')
    await fill(page, 'stock', 'Quince A')
    await press(page, 'What should I think of first?')
    await page.getByText('Nothing is saved yet').waitFor()
    await page.getByText('Scion and stock: do not go together').waitFor()
    expect(await page.locator('[name="stock"]').inputValue()).toBe('Quince A')
    expect(await world.database.db.prisma.attempt.count()).toBe(before)
  })

  test('asks strongly for the tie of string, and takes a reason for putting it off into the calendar', async () => {
    await page.goto(`${group}/settings/mails`)
    await press(page, /^Make/)
    await page.getByText('Your calendar has an address').waitFor()
    const address = await page.getByLabel(/^Its address/).inputValue()
    const uid = `${required(entry.split('/').at(-1), 'an id')}.care.release-tie@tallywood`
    const before = await eventIn(page, address, uid)

    await page.goto(group)
    await page.getByText('May strangle').first().waitFor()
    await page.goto(entry)
    const task = page.locator('#care-release-tie')
    await task.getByText('Overdue: may strangle').waitFor()
    await task.getByText('3 to 4 months').waitFor()
    await task.locator('summary').click()
    await task.locator('[name="until"]').fill(daysFromToday(20))
    await task.locator('[name="reason"]').fill('It still sits loosely')
    await task.getByRole('button', { name: 'Put it off' }).click()
    await page.getByText('Your answer is on record').waitFor()
    await expect(page.locator('#care-release-tie').count()).resolves.toBe(0)

    const after = await eventIn(page, address, uid)
    expect(after.startDate.toString()).toBe(daysFromToday(20))
    expect(after.sequence).toBeGreaterThan(before.sequence)
    await page.goto(`${group}/settings/mails`)
    await press(page, 'Close it')
    await page.getByText('is closed').waitFor()
    expect((await page.request.get(address)).status()).toBe(404)
  })

  test('keeps a photo of a look for those who may see it', async () => {
    await page.goto(`${entry}/check`)
    await fill(page, 'alive', '12')
    const picture = await sharp({ create: { width: 90, height: 60, channels: 3, background: '#3a5a2c' } })
      .png()
      .toBuffer()
    await page
      .locator('[name="photo"]')
      .setInputFiles({ name: 'union.png', mimeType: 'image/png', buffer: picture })
    await press(page, 'Save what I saw')
    await page.getByText('The look is on record').waitFor()
    const src = required(await page.locator('main img').first().getAttribute('src'), 'a photo')
    const shown = await page.request.get(src)
    expect((await sharp(await shown.body()).metadata()).format).toBe('jpeg')

    const stranger = await world.visit()
    const refused = await stranger.request.get(src, { maxRedirects: 0 })
    expect(refused.status()).toBeGreaterThanOrEqual(300)
    expect(refused.headers()['content-type'] ?? '').not.toContain('image')
    await stranger.close()

    await press(page, 'Remove photo 1')
    await page.getByText('The photo is gone').waitFor()
    expect((await page.request.get(src)).status()).toBe(404)
  })

  test('asks for nothing more once it is dead', async () => {
    await page.goto(`${entry}/check`)
    await fill(page, 'dead', '12')
    await press(page, 'Save what I saw')
    await page.getByText('The look is on record').waitFor()
    await expect(page.locator('#care').count()).resolves.toBe(0)
  })
})

test('the pages are accessible on a phone, on a narrow one in the dark, and on a desk', async () => {
  for (const options of [
    {},
    { viewport: { width: 320, height: 700 }, colorScheme: 'dark' },
    { viewport: { width: 1280, height: 900 } },
  ] as const) {
    const context = await world.visit(options)
    const page = await context.newPage()
    await signInAs(page, 'Nell')
    for (const path of ['/grafts', '/grafts/morning?rows=8', '/grafts/new?own=1', '/settings/mails']) {
      await check(page, `${group}${path}`)
    }
    const { id } = await world.database.db.prisma.attempt.findFirstOrThrow({
      where: { wrap: 'string', batchPlace: 2 },
    })
    await check(page, `${group}/grafts/${id}`)
    await check(page, `${group}/grafts/${id}/check`)
    await context.close()
  }
})
