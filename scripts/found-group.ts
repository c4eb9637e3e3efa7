import { resolve } from 'node:path'
import { fileURLToPath } from 'node:url'
import { parseArgs } from 'node:util'
import { signInLinkFor } from '#lib/access/sign-in-link.ts'
import { foundGroup } from '#lib/people/found-group.ts'
import { FoundGroupInput } from '#lib/people/input.ts'
import { type Database, openDatabase } from '#lib/platform/database/database.ts'
import { readInstallation } from '#lib/platform/database/installation.ts'
import { prepareDatabase } from './start/prepare-database.ts'
import { reportAndExit, Stop } from './steps.mjs'
import { withDatabase } from './with-database.ts'

const usage = `npm run found-group -- --name NAME --slug SLUG --zone ZONE --email E-MAIL --organiser NAME [--region REGION]

  --name NAME       what the group is called: "Long Row Orchards"
  --slug SLUG       its part of the web address, /g/SLUG: small letters, digits and single hyphens
  --zone ZONE       its time zone: Europe/London
  --email E-MAIL    the first organiser's address, with which they sign in
  --organiser NAME  what the group calls its first organiser
  --region REGION   where it is, for notes on moving plants: GB-ENG
  --help            this text

Founds a group in the database of DATABASE_URL, with an account for its first organiser if the address has none,
and prints a link with which the organiser signs in once. Everybody else is invited from the People page.`

/** Which option each entry comes from, so that a fault can be named as it was typed. */
const optionOf: Readonly<Record<string, string>> = {
  name: '--name',
  slug: '--slug',
  timeZone: '--zone',
  organiserEmail: '--email',
  organiserName: '--organiser',
  region: '--region',
}

/** Reads the command line; sentences about what is wrong with it otherwise. */
function readArguments(args: readonly string[]): FoundGroupInput | readonly string[] | 'help' {
  let values: ReturnType<typeof parseOptions>['values']
  try {
    values = parseOptions(args).values
  } catch (error) {
    if (!(error instanceof TypeError)) throw error
    return [`${error.message}. See npm run found-group -- --help.`]
  }
  if (values.help || args.length === 0) return 'help'
  const parsed = FoundGroupInput.safeParse({
    name: values.name,
    slug: values.slug,
    timeZone: values.zone,
    organiserEmail: values.email,
    organiserName: values.organiser,
    region: values.region,
  })
  if (parsed.success) return parsed.data
  return parsed.error.issues.map(({ path, message }) => `${optionOf[String(path[0])]}: ${message}.`)
}

const parseOptions = (args: readonly string[]) =>
  parseArgs({
    args: [...args],
    options: {
      name: { type: 'string' },
      slug: { type: 'string' },
      zone: { type: 'string' },
      email: { type: 'string' },
      organiser: { type: 'string' },
      region: { type: 'string' },
      help: { type: 'boolean' },
    },
  })

/**
 * The command, on an open database: founds the group and returns what is to be printed. Throws Stop with a
 * sentence when it cannot.
 *
 * @param address where this installation answers
 */
export async function foundGroupCommand(
  db: Database,
  input: FoundGroupInput,
  address: string,
): Promise<readonly string[]> {
  if ((await readInstallation(db.pool)).isDemo) {
    throw new Stop(
      'This database holds the demo world, in which anybody may sign in as anybody. Set DATABASE_URL to a database for your group.',
    )
  }
  const founded = await foundGroup(db, input)
  if (!founded.ok) {
    throw new Stop(`Another group here has the address /g/${input.slug}. Choose another --slug.`)
  }
  const signIn = await signInLinkFor(db, input.organiserEmail, address)
  if (!signIn.ok) throw new Error(`No account for ${input.organiserEmail} after founding the group`)
  return [
    `${input.name} is founded, with ${input.organiserName} as its organiser. Its pages are at ${address}/g/${input.slug}.`,
    '',
    `${input.organiserName} signs in with this link, which works once, within ${signIn.value.minutes} minutes:`,
    signIn.value.link,
    '',
    `Another one later: npm run sign-in-link -- ${input.organiserEmail}`,
  ]
}

async function main(): Promise<void> {
  const input = readArguments(process.argv.slice(2))
  if (input === 'help') {
    console.log(usage)
    return
  }
  if (!('slug' in input)) reportAndExit(new Stop(input.join('\n')))
  await withDatabase('npm run found-group', async (url, { address }) => {
    await prepareDatabase(url, { demo: null, onProgress: () => {} })
    const db = openDatabase(url)
    try {
      console.log((await foundGroupCommand(db, input, address)).join('\n'))
    } finally {
      await db.close()
    }
  })
}

if (process.argv[1] && resolve(process.argv[1]) === fileURLToPath(import.meta.url)) await main()
