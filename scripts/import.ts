import { readFile } from 'node:fs/promises'
import { basename, resolve } from 'node:path'
import { fileURLToPath } from 'node:url'
import { parseArgs } from 'node:util'
import type { Actor } from '#lib/access/actor.ts'
import { can } from '#lib/access/policy.ts'
import { importOutcomes } from '#lib/attempts/import-outcomes.ts'
import { type ImportKind, importColumns, importKinds } from '#lib/formats/csv/columns.ts'
import type { ImportOptions } from '#lib/formats/csv/import-file.ts'
import { importRefusalLines, importReportLines } from '#lib/formats/csv/import-words.ts'
import { importMembers } from '#lib/people/import-members.ts'
import { type Database, openDatabase } from '#lib/platform/database/database.ts'
import { importTrees } from '#lib/trees/import-trees.ts'
import { importLots } from '#lib/wood/import-lots.ts'
import { prepareDatabase } from './start/prepare-database.ts'
import { reportAndExit, Stop } from './steps.mjs'
import { withDatabase } from './with-database.ts'

const imports = { outcomes: importOutcomes, members: importMembers, trees: importTrees, lots: importLots }

const usage = `npm run import -- outcomes|members|trees|lots FILE.csv --group SLUG [options]

  --group SLUG        the group, as in its web address: /g/SLUG
  --as E-MAIL         who imports: somebody of the group who may (an organiser). Otherwise its first organiser
  --dates dmy|mdy|iso how days are written, where 3/4/2026 could be two days
  --skip-bad          write the good rows and name the others; otherwise one bad row keeps everything out
  --create-varieties  add varieties that the group does not have; the column “crop” must be filled for them
  --dry-run           do everything, say what would be written, and take it back
  --help              this text

The file is a table as spreadsheets save it: commas, semicolons or tabs, the columns named in the first line, in
any order. The same file is not imported twice. Stop Tallywood first if it runs with its own database.`

/** The columns of each kind, for --help. */
function helpLines(): readonly string[] {
  const columns = importKinds.flatMap((kind) => [
    '',
    `Columns of ${kind} (* must be there):`,
    ...importColumns[kind].map(
      ({ names, isRequired, help }) =>
        `  ${`${names[0]}${isRequired ? '*' : ''}`.padEnd(14)} ${help}${names.length > 1 ? ` [also: ${names.slice(1).join(', ')}]` : ''}`,
    ),
  ])
  return [...usage.split('\n'), ...columns]
}

interface Wanted {
  readonly kind: ImportKind
  readonly file: string
  readonly slug: string
  readonly as: string | null
  readonly options: ImportOptions
}

const isKind = (text: string | undefined): text is ImportKind => importKinds.some((kind) => kind === text)
const isOrder = (text: string | undefined): text is 'dmy' | 'mdy' | 'iso' =>
  text === 'dmy' || text === 'mdy' || text === 'iso'

/** Reads the command line; a sentence about what is wrong with it otherwise. */
function readArguments(args: readonly string[]): Wanted | string | 'help' {
  let parsed: ReturnType<typeof parseOptions>
  try {
    parsed = parseOptions(args)
  } catch (error) {
    if (!(error instanceof TypeError)) throw error
    return `${error.message}. See npm run import -- --help.`
  }
  const { values, positionals } = parsed
  if (values.help) return 'help'
  const [kind, file, ...more] = positionals
  if (!isKind(kind)) return `Say what to import: ${importKinds.join(', ')}. See npm run import -- --help.`
  if (!file || more.length > 0) return 'Name one file. See npm run import -- --help.'
  if (!values.group) return 'Name the group with --group, as in its web address.'
  const { dates } = values
  if (dates !== undefined && !isOrder(dates)) return `--dates is dmy, mdy or iso, not “${dates}”.`
  return {
    kind,
    file,
    slug: values.group,
    as: values.as ?? null,
    options: {
      dates: dates ?? null,
      skipBad: values['skip-bad'] ?? false,
      dryRun: values['dry-run'] ?? false,
      createVarieties: values['create-varieties'] ?? false,
    },
  }
}

const parseOptions = (args: readonly string[]) =>
  parseArgs({
    args: [...args],
    allowPositionals: true,
    options: {
      group: { type: 'string' },
      as: { type: 'string' },
      dates: { type: 'string' },
      'skip-bad': { type: 'boolean' },
      'dry-run': { type: 'boolean' },
      'create-varieties': { type: 'boolean' },
      help: { type: 'boolean' },
    },
  })

/** In whose name the import runs; a sentence when there is nobody. */
async function importer(db: Database, slug: string, email: string | null): Promise<Actor | string> {
  const group = await db.prisma.orchardGroup.findUnique({ where: { slug }, select: { id: true } })
  if (!group) return `There is no group “${slug}”. Its slug is the part of the web address after /g/.`
  const member = await db.prisma.member.findFirst({
    where: {
      groupId: group.id,
      leftOn: null,
      ...(email === null ? { role: 'organiser' } : { login: { email: email.trim().toLowerCase() } }),
    },
    orderBy: [{ joinedOn: 'asc' }, { createdAt: 'asc' }, { id: 'asc' }],
  })
  if (!member) {
    return email === null
      ? 'The group has no organiser; name somebody with --as.'
      : `Nobody in this group signs in as ${email}.`
  }
  const actor: Actor = { groupId: group.id, memberId: member.id, role: member.role }
  return can(actor, 'import-data') ? actor : `${member.displayName} may not import: it takes an organiser.`
}

export interface ImportAnswer {
  readonly isDone: boolean
  readonly lines: readonly string[]
}

const no = (...lines: readonly string[]): ImportAnswer => ({ isDone: false, lines })

/** The command, on an open database: what the words after `npm run import --` do, and what is to be printed. */
export async function importCommand(args: readonly string[], db: Database): Promise<ImportAnswer> {
  const wanted = readArguments(args)
  if (wanted === 'help') return { isDone: true, lines: helpLines() }
  if (typeof wanted === 'string') return no(wanted)
  let bytes: Uint8Array
  try {
    bytes = await readFile(wanted.file)
  } catch (error) {
    if (!(error instanceof Error && 'code' in error)) throw error
    return no(`${wanted.file} cannot be read (${String(error.code)}).`)
  }
  const actor = await importer(db, wanted.slug, wanted.as)
  if (typeof actor === 'string') return no(actor)
  const file = { name: basename(wanted.file), bytes }
  const result = await imports[wanted.kind](db, actor, file, wanted.options)
  if (!result.ok) return no(...importRefusalLines(result.refusal))
  return { isDone: true, lines: importReportLines(result.value, wanted.kind, wanted.options.dryRun) }
}

async function main(): Promise<void> {
  const args = process.argv.slice(2)
  const wanted = readArguments(args)
  if (wanted === 'help') {
    console.log(helpLines().join('\n'))
    return
  }
  if (typeof wanted === 'string') reportAndExit(new Stop(wanted))
  await withDatabase('npm run import', async (url) => {
    await prepareDatabase(url, { demo: null, onProgress: () => {} })
    const db = openDatabase(url)
    try {
      const { isDone, lines } = await importCommand(args, db)
      if (!isDone) throw new Stop(lines.join('\n'))
      console.log(lines.join('\n'))
    } finally {
      await db.close()
    }
  })
}

if (process.argv[1] && resolve(process.argv[1]) === fileURLToPath(import.meta.url)) await main()
