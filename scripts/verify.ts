import { resolve } from 'node:path'
import { fileURLToPath } from 'node:url'
import { parseArgs } from 'node:util'
import { type GroupReport, type NamedFault, verifyGroups } from '#lib/ledger/verify-report.ts'
import { type Database, openDatabase } from '#lib/platform/database/database.ts'
import { databaseErrorOf } from '#lib/platform/database/errors.ts'
import { reportAndExit, Stop } from './steps.mjs'
import { withDatabase } from './with-database.ts'

const usage = `npm run verify [-- --group SLUG]

  --group SLUG  one group, as in its web address: /g/SLUG. Otherwise all of them
  --help        this text

Adds the stick ledger up again from its moves and looks whether everything else agrees: what is where, running
balances, claims, limits, offerings, grafts, and that no wood comes from itself. Says what is wrong and ends with 1,
or with 0 when all is well. Nothing is changed. It may run while people claim; with Tallywood's own database, stop
Tallywood first.`

const undefinedTable = '42P01'
const outOfDate = 'This database is not up to date with this copy of Tallywood. First run: npm run db:migrate'

interface Wanted {
  /** Null for every group. */
  readonly slug: string | null
}

/** Reads the command line; a sentence about what is wrong with it otherwise. */
function readArguments(args: readonly string[]): Wanted | string | 'help' {
  try {
    const { values } = parseArgs({
      args: [...args],
      options: { group: { type: 'string' }, help: { type: 'boolean' } },
    })
    return values.help ? 'help' : { slug: values.group ?? null }
  } catch (error) {
    if (!(error instanceof TypeError)) throw error
    return `${error.message}. See npm run verify -- --help.`
  }
}

export interface VerifyAnswer {
  readonly isClean: boolean
  readonly lines: readonly string[]
}

const counted = (count: number, one: string) => `${count} ${count === 1 ? one : `${one}s`}`

const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1)

const faultLine = ({ about, sentence }: NamedFault) => `  ${capital(about)}: ${sentence}.`

function groupLines({ slug, name, counts, faults }: GroupReport): readonly string[] {
  const looked = `${counted(counts.lots, 'lot')}, ${counted(counts.moves, 'move')}, ${counted(counts.claims, 'claim')}`
  const found = faults.length === 0 ? 'everything adds up' : `${counted(faults.length, 'fault')}`
  return [`${name} (${slug}): ${looked}: ${found}.`, ...faults.map(faultLine)]
}

/** The command, on an open database: what the words after `npm run verify --` do, and what is to be printed. */
export async function verifyCommand(args: readonly string[], db: Database): Promise<VerifyAnswer> {
  const wanted = readArguments(args)
  if (wanted === 'help') return { isClean: true, lines: usage.split('\n') }
  if (typeof wanted === 'string') return { isClean: false, lines: [wanted] }
  const group =
    wanted.slug === null ? null : await db.prisma.orchardGroup.findUnique({ where: { slug: wanted.slug } })
  if (wanted.slug !== null && !group) {
    const sentence = `There is no group “${wanted.slug}”. Its slug is the part of the web address after /g/.`
    return { isClean: false, lines: [sentence] }
  }
  const reports = await verifyGroups(db, group?.id ?? null)
  if (reports.length === 0) return { isClean: true, lines: ['There is no group in this database yet.'] }
  return {
    isClean: reports.every(({ faults }) => faults.length === 0),
    lines: reports.flatMap(groupLines),
  }
}

async function main(): Promise<void> {
  const args = process.argv.slice(2)
  const wanted = readArguments(args)
  if (wanted === 'help') {
    console.log(usage)
    return
  }
  if (typeof wanted === 'string') reportAndExit(new Stop(wanted))
  await withDatabase('npm run verify', async (url) => {
    const db = openDatabase(url, { max: 2 })
    try {
      const { isClean, lines } = await verifyCommand(args, db)
      if (!isClean) throw new Stop(lines.join('\n'))
      console.log(lines.join('\n'))
    } catch (error) {
      throw databaseErrorOf(error)?.sqlstate === undefinedTable ? new Stop(outOfDate) : error
    } finally {
      await db.close()
    }
  })
}

if (process.argv[1] && resolve(process.argv[1]) === fileURLToPath(import.meta.url)) await main()
