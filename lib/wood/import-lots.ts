import type { Actor } from '#lib/access/actor.ts'
import {
  type Entry,
  type ImportContext,
  type Importer,
  type ImportFile,
  type ImportOptions,
  type ImportRefusal,
  type ImportReport,
  importFile,
} from '#lib/formats/csv/import-file.ts'
import type { RowReader } from '#lib/formats/csv/row-reader.ts'
import { writeByCommand } from '#lib/formats/csv/write-by-command.ts'
import { describeCodeRefusal, formatCode, parseCode } from '#lib/grafting/codes.ts'
import { cultivarSearchKey } from '#lib/grafting/cultivar-name.ts'
import type { CivilDate } from '#lib/kernel/civil-date.ts'
import type { Result } from '#lib/kernel/result.ts'
import { memberByName } from '#lib/people/member-by-name.ts'
import { memberOfRow } from '#lib/people/member-of-row.ts'
import type { Database, Queries } from '#lib/platform/database/database.ts'
import type { DiameterBand, LotKind, Packaging, ToolCare } from '#lib/platform/generated/enums.ts'
import type { LotToCut } from '#lib/wood/input.ts'
import { type LoggedSession, logCuttingSession } from '#lib/wood/log-cutting-session.ts'
import { woodRefusalWords } from '#lib/wood/refusal-words.ts'

interface SessionOfRows {
  readonly cutterId: string
  readonly cutOn: CivilDate
  readonly tool: string
  readonly toolCare: ToolCare
  readonly lots: readonly LotToCut[]
}

interface LotOfRow extends Omit<SessionOfRows, 'lots'> {
  readonly row: RowReader
  readonly lot: LotToCut
}

const mostSticks = 2_000
/** As many lots as one session takes. */
const lotsPerSession = 40

const kinds: readonly LotKind[] = ['scion_wood', 'budwood', 'hardwood_cuttings', 'rooted_plants']
const diameters: readonly DiameterBand[] = ['thin', 'pencil', 'thick', 'mixed']
const packagings: readonly Packaging[] = [
  'bare',
  'paper',
  'open_bag',
  'sealed_bag',
  'sealed_damp',
  'waxed_sealed',
]
const toolCares: readonly ToolCare[] = ['wiped_between_trees', 'wiped_once', 'not_wiped', 'not_noted']

interface Finders {
  readonly member: Awaited<ReturnType<typeof memberByName>>
  /** The limbs of a tree that still stand, by its code. */
  readonly limbs: ReadonlyMap<string, readonly { readonly id: string; readonly mark: string }[]>
  readonly stores: ReadonlyMap<string, string>
}

async function finders(tx: Queries, groupId: string): Promise<Finders> {
  const [member, trees, stores] = [
    await memberByName(tx, groupId),
    await tx.tree.findMany({
      where: { groupId },
      select: { code: true, limbs: { where: { goneOn: null }, select: { id: true, mark: true } } },
    }),
    await tx.store.findMany({ where: { groupId, closedOn: null }, select: { id: true, name: true } }),
  ]
  return {
    member,
    limbs: new Map(trees.map(({ code, limbs }) => [code, limbs])),
    stores: new Map(stores.map(({ id, name }) => [cultivarSearchKey(name), id])),
  }
}

function limbOfRow(row: RowReader, { limbs }: Finders): string | null {
  const text = row.filled('tree', 20)
  if (text === '') return null
  const code = parseCode(text)
  // Codes of old labels are looked up as they stand; the check character only helps to say what is wrong.
  const bare = text.replace(/[\s-]/g, '').toUpperCase()
  const ofTree = limbs.get(code.ok ? code.value : bare)
  if (!ofTree) {
    row.fault('tree', code.ok ? `the group has no tree ${text}` : describeCodeRefusal(code.refusal))
    return null
  }
  const mark = row.text('limb', 8).toUpperCase()
  const limb = mark === '' && ofTree.length === 1 ? ofTree[0] : ofTree.find((own) => own.mark === mark)
  if (limb) return limb.id
  const marks = ofTree.map((own) => own.mark).join(', ')
  row.fault(
    'limb',
    mark === '' ? `say which limb: ${marks}` : `the tree has no limb ${mark}; it has ${marks}`,
  )
  return null
}

function storeOfRow(row: RowReader, { stores }: Finders): string | null {
  const name = row.filled('store', 60)
  if (name === '') return null
  const store = stores.get(cultivarSearchKey(name))
  if (!store) row.fault('store', `the group has no open store called “${name}”; add it first`)
  return store ?? null
}

function lotOfRow(row: RowReader, find: Finders): LotOfRow | null {
  const limbId = limbOfRow(row, find)
  const storeId = storeOfRow(row, find)
  const cutterId = memberOfRow(row, 'cutter', find.member)
  if (row.text('cutter') === '') row.fault('cutter', 'is empty')
  const cutOn = row.day('cut_on')
  if (row.text('cut_on') === '') row.fault('cut_on', 'is empty')
  const sticks = row.count('sticks', 1, mostSticks)
  if (row.text('sticks') === '') row.fault('sticks', 'is empty')
  const details = {
    kind: row.oneOf('kind', kinds, 'scion_wood'),
    diameter: row.oneOf('diameter', diameters, 'mixed'),
    packaging: row.oneOf('packaging', packagings, 'sealed_damp'),
    budStage: row.count('bud_stage', 0, 99) ?? 0,
    note: row.text('note', 300) || undefined,
  }
  const session = { tool: row.text('tool', 80), toolCare: row.oneOf('tool_care', toolCares, 'not_noted') }
  if (row.faults.length > 0 || !limbId || !storeId || !cutterId || !cutOn || sticks === null) return null
  return { row, cutterId, cutOn, ...session, lot: { limbId, storeId, sticks, ...details } }
}

/** One person, one day, one tool: the rows of one cutting session. */
const sessionKey = ({ cutterId, cutOn, tool, toolCare }: LotOfRow) =>
  JSON.stringify([cutterId, cutOn, tool.toLowerCase(), toolCare])

function bySession(lots: readonly LotOfRow[]): readonly Entry<SessionOfRows>[] {
  const sessions = new Map<string, LotOfRow[]>()
  for (const lot of lots) {
    const key = sessionKey(lot)
    const session = sessions.get(key)
    if (session) session.push(lot)
    else sessions.set(key, [lot])
  }
  return [...sessions.values()].flatMap((own) =>
    Array.from({ length: Math.ceil(own.length / lotsPerSession) }, (_, i) =>
      sessionOf(own.slice(i * lotsPerSession, (i + 1) * lotsPerSession)),
    ).flatMap((session) => session ?? []),
  )
}

function sessionOf(rows: readonly LotOfRow[]): Entry<SessionOfRows> | null {
  const [first] = rows
  if (!first) return null
  const { cutterId, cutOn, tool, toolCare } = first
  const lots = rows.map(({ lot }) => lot)
  return { lines: rows.map(({ row }) => row.line), value: { cutterId, cutOn, tool, toolCare, lots } }
}

async function readLots(
  { tx, actor }: ImportContext,
  rows: readonly RowReader[],
): Promise<readonly Entry<SessionOfRows>[]> {
  const find = await finders(tx, actor.groupId)
  return bySession(rows.flatMap((row) => lotOfRow(row, find) ?? []))
}

const importer: Importer<SessionOfRows> = {
  kind: 'lots',
  read: readLots,
  async write(context, entries) {
    const done = await writeByCommand(context, entries, {
      run: (db, { key, value: { tool, ...session } }) =>
        logCuttingSession(db, context.actor, { key, ...session, ...(tool === '' ? {} : { tool }) }),
      words: woodRefusalWords,
      remark: ({ cutOn }, { lots }: LoggedSession) =>
        `Cut on ${cutOn}: ${lots.map(({ code }) => formatCode(code)).join(', ')}.`,
    })
    const refused = new Set(done.faults.map(({ line }) => line))
    const written = entries
      .filter(({ lines }) => !lines.some((line) => refused.has(line)))
      .reduce((sum, { value }) => sum + value.lots.length, 0)
    return { ...done, written }
  },
}

/**
 * Brings lots in from a spreadsheet, with their sticks in the ledger and a code for each. One row is one lot; rows
 * of one person, day and tool are one cutting session.
 */
export const importLots = (
  db: Database,
  actor: Actor,
  file: ImportFile,
  options: ImportOptions,
): Promise<Result<ImportReport, ImportRefusal>> => importFile(db, actor, file, options, importer)
