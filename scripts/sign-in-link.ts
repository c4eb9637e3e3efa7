import { RequestLinkInput } from '#lib/access/input.ts'
import { signInLinkFor } from '#lib/access/sign-in-link.ts'
import { openDatabase } from '#lib/platform/database/database.ts'
import { reportAndExit, Stop } from './steps.mjs'
import { withDatabase } from './with-database.ts'

const asked = RequestLinkInput.safeParse({ email: process.argv[2] })
const usage =
  'npm run sign-in-link -- E-MAIL prints a link with which the person of that address signs in once: for when no mail arrives.'
const email = asked.success && process.argv.length === 3 ? asked.data.email : reportAndExit(new Stop(usage))

await withDatabase('npm run sign-in-link', async (url, { address }) => {
  const db = openDatabase(url)
  try {
    const signIn = await signInLinkFor(db, email, address)
    if (!signIn.ok) throw new Stop(`Nobody signs in as ${email} here. An organiser can invite them.`)
    console.log(`Works once, within ${signIn.value.minutes} minutes:\n${signIn.value.link}`)
  } finally {
    await db.close()
  }
})
