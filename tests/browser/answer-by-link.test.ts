import { randomUUID } from 'node:crypto'
import type { BrowserContext, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import type { Actor } from '#lib/access/actor.ts'
import { RecordAttemptInput } from '#lib/attempts/input.ts'
import { getAttempt } from '#lib/attempts/queries.ts'
import { recordAttempt } from '#lib/attempts/record-attempt.ts'
import { sendReminders } from '#lib/attempts/send-reminders.ts'
import { required } from '#lib/kernel/assert.ts'
import { expectAccessible, expectNoSidewaysScroll } from './axe.ts'
import { daysFromToday, fill, pick, press } from './pages.ts'
import { servedWorld } from './served-world.ts'

const secret = 'the secret of a served world, for this journey alone'
const world = servedWorld({ env: { NEXTAUTH_SECRET: secret } })

interface Asked {
  readonly actor: Actor
  readonly attemptId: string
  /** The path of the mailed link, without an answer. */
  readonly path: string
  readonly stopPath: string
}

/** Four clefts of five weeks ago, and the mail that asks for them. */
async function askForFourGrafts(): Promise<Asked> {
  const { db } = world.database
  const member = await db.prisma.member.findFirstOrThrow({
    where: { group: { slug: 'marrow-lane' }, role: 'member', leftOn: null, login: { isNot: null } },
    include: { login: true },
  })
  const actor: Actor = { groupId: member.groupId, memberId: member.id, role: member.role }
  const stump = `stump ${randomUUID().slice(0, 8)}`
  const variety = await db.prisma.variety.findFirstOrThrow({ where: { groupId: member.groupId } })
  const made = await recordAttempt(
    db,
    actor,
    RecordAttemptInput.parse({
      key: randomUUID(),
      source: 'own',
      varietyId: variety.id,
      method: 'cleft',
      stock: stump,
      madeOn: daysFromToday(-35),
      pieces: 4,
    }),
  )
  const attemptId = required(made.ok ? made.value.attemptId : null, 'an attempt')
  await sendReminders(db, member.groupId, { baseUrl: world.address(), secret })
  const mail = await db.prisma.outboxMail.findFirstOrThrow({
    where: { toAddress: member.login?.email ?? '', body: { contains: stump } },
  })
  const part = mail.body.slice(mail.body.indexOf(stump))
  const path = required(/(\/answer\/[\w-]+)\?say=all/.exec(part)?.[1], 'a link')
  const stopPath = required(/(\/answer\/stop\/reminders\/[\w-]+)$/m.exec(mail.body)?.[1], 'a link that stops')
  return { actor, attemptId, path, stopPath }
}

const seen = async ({ actor, attemptId }: Asked) =>
  required(await getAttempt(world.database.db, actor, attemptId), 'the attempt')

describe.each([
  ['with scripts', true],
  ['without', false],
] as const)('a mailed question is answered without signing in, %s', (_name, javaScriptEnabled) => {
  let context: BrowserContext
  let page: Page
  let asked: Asked

  beforeAll(async () => {
    asked = await askForFourGrafts()
    context = await world.visit({ javaScriptEnabled })
    page = await context.newPage()
  })
  afterAll(() => context.close())

  test('opening every link, as a scanner does, records nothing', async () => {
    for (const say of ['all', 'some', 'none', 'not-attempted', 'cannot-tell']) {
      await page.request.get(`${asked.path}?say=${say}`)
      await page.request.head(`${asked.path}?say=${say}`)
    }
    expect((await seen(asked)).checks).toEqual([])
  })

  test('one tap in the mail and one button answer it', async () => {
    await page.goto(`${asked.path}?say=none`)
    expect(await page.locator('[name="say"][value="none"]').isChecked()).toBe(true)
    await press(page, 'Record this answer')
    await page.getByText('Your answer is on record').waitFor()
    expect((await seen(asked)).standing).toMatchObject({
      alive: 0,
      dead: 4,
      checkpoint: 'thirty-days',
      isByLink: true,
    })
  })

  test('a wrong tap is put right through the same link', async () => {
    await page.goto(`${asked.path}?say=some`)
    await fill(page, 'alive', '3')
    await press(page, 'Record this instead')
    await page.getByText('3 of 4 alive, 1 dead').waitFor()
    const { standing, checks } = await seen(asked)
    expect(standing).toMatchObject({ alive: 3, dead: 1 })
    expect(checks.map(({ isCorrected }) => isCorrected).toSorted()).toEqual([false, true])
  })

  test('a number that cannot be is refused with what was entered kept', async () => {
    await page.goto(`${asked.path}?say=some`)
    await fill(page, 'alive', '9')
    await fill(page, 'dead', '0')
    await press(page, 'Record this instead')
    await page.getByText('come to 9; there were 4').waitFor()
    expect(await page.locator('[name="alive"]').inputValue()).toBe('9')
    await pick(page, 'say', 'not-attempted')
    await press(page, 'Record this instead')
    await page.getByText('On record: never made after all').waitFor()
    expect((await seen(asked)).standing).toMatchObject({ unknown: 4, unknownWhy: 'not_attempted' })
  })

  test('the reminders are stopped by one button, and by a mail program with one request', async () => {
    await page.goto(asked.stopPath)
    await press(page, 'Stop them')
    await page.getByText('you get no more of these').waitFor()
    await press(page, 'Send them again')
    await page.getByRole('button', { name: 'Stop them' }).waitFor()
    await page.request.get(`${asked.stopPath}/now`)
    await page.goto(asked.stopPath)
    await page.getByRole('button', { name: 'Stop them' }).waitFor()
    const stopped = await page.request.post(`${asked.stopPath}/now`, {
      form: { 'List-Unsubscribe': 'One-Click' },
    })
    expect(stopped.status()).toBe(200)
    await page.goto(asked.stopPath)
    await page.getByRole('button', { name: 'Send them again' }).waitFor()
    await press(page, 'Send them again')
    await page.getByRole('button', { name: 'Stop them' }).waitFor()
  })
})

test('the pages of the links are accessible, on a narrow phone in the dark too, and an invented link is refused', async () => {
  const asked = await askForFourGrafts()
  for (const options of [{}, { viewport: { width: 320, height: 700 }, colorScheme: 'dark' }] as const) {
    const context = await world.visit(options)
    const page = await context.newPage()
    for (const path of [
      `${asked.path}?say=some`,
      asked.stopPath,
      '/answer/invented',
      '/answer/stop/reminders/x',
    ]) {
      await page.goto(path)
      await expectAccessible(page)
      await expectNoSidewaysScroll(page)
    }
    await page.goto('/answer/invented')
    await page.getByText('not one that we mailed').waitFor()
    await context.close()
  }
})
