import { launchBrowser } from '#tests/support/browser.ts'
const [person, js, ...paths] = process.argv.slice(2)
const browser = await launchBrowser()
for (const width of [390, 1280]) {
  const context = await browser.newContext({ baseURL: 'http://localhost:3000', viewport: { width, height: 900 }, javaScriptEnabled: js === 'js' })
  const page = await context.newPage()
  await page.goto('/sign-in', { timeout: 90000 })
  await page.getByRole('button', { name: person }).click()
  await page.waitForLoadState('networkidle', { timeout: 90000 }).catch(() => {})
  console.log(page.url())
  for (const path of paths) {
    const errors: string[] = []
    page.on('console', (m) => { if (m.type() === 'error') errors.push(m.text().slice(0, 300)) })
    const [p, name] = path.split('=')
    const r = await page.goto(p!, { timeout: 120000 })
    await page.waitForLoadState('networkidle', { timeout: 30000 }).catch(() => {})
    const wide = await page.evaluate('document.documentElement.scrollWidth') as number
    console.log(width, p, r?.status(), 'scrollWidth', wide, errors.slice(0, 3))
    await page.screenshot({ path: `/tmp/p3b/${name}-${width}.png`, fullPage: true })
  }
  await context.close()
}
await browser.close()
