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
import { formatCode } from '#lib/grafting/codes.ts'
import type { CivilDate } from '#lib/kernel/civil-date.ts'
import type { Result } from '#lib/kernel/result.ts'
import { memberByName } from '#lib/people/member-by-name.ts'
import { memberOfRow } from '#lib/people/member-of-row.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { type AddedTree, addTree } from '#lib/trees/add-tree.ts'
import { identityGrades } from '#lib/trees/identity.ts'
import { AddTreeInput } from '#lib/trees/input.ts'
import { treeRefusalWords } from '#lib/trees/refusal-words.ts'
import { addNewVarieties, type RowVariety, varietyOfRow } from '#lib/varieties/import-variety.ts'
import { varietyByName } from '#lib/varieties/variety-by-name.ts'

interface LimbOfRow {
  readonly mark: string
  readonly variety: RowVariety | null
  readonly heightCm: number | null
  readonly side: string
  readonly origin: 'own' | 'grafted' | 'unknown'
  readonly identity: (typeof identityGrades)[number]
}

interface TreeOfRows {
  /** The group's own mark for it. */
  readonly label: string
  readonly keeperId: string
  readonly rootstock: string
  readonly place: string
  readonly plantedOn: CivilDate | null
  readonly note: string
  readonly limbs: readonly LimbOfRow[]
}

const highestCm = 5_000
const letters = 'ABCDEFGHIJKLMNOPQRSTUVWXYZ'

/** Rows that name the same tree are one tree, wherever they stand; a row that names none is one by itself. */
function byTree(rows: readonly RowReader[]): readonly (readonly RowReader[])[] {
  const trees = new Map<string, RowReader[]>()
  for (const row of rows) {
    const label = row.text('tree', 60).toLowerCase()
    const key = label === '' ? `row ${row.line}` : `tree ${label}`
    const tree = trees.get(key)
    if (tree) tree.push(row)
    else trees.set(key, [row])
  }
  return [...trees.values()]
}

/** What is said of the tree itself: once, or the same on each of its rows. */
function sameOnAll(rows: readonly RowReader[], column: string, longest: number): string {
  const filled = rows.filter((row) => row.text(column, longest) !== '')
  const value = filled[0]?.text(column, longest) ?? ''
  for (const row of filled) {
    if (row.text(column, longest) !== value) {
      row.fault(column, `differs from line ${filled[0]?.line}, which is the same tree`)
    }
  }
  return value
}

function limbOfRow(row: RowReader, at: number, isOnly: boolean, variety: RowVariety | null): LimbOfRow {
  return {
    mark: row.text('limb', 8).toUpperCase() || (letters[at] ?? `L${at + 1}`),
    variety,
    heightCm: row.count('height_cm', 0, highestCm),
    side: row.text('side', 40),
    origin: row.oneOf('origin', ['own', 'grafted', 'unknown'], isOnly ? 'own' : 'unknown'),
    identity: row.oneOf('identity', identityGrades, 'unknown'),
  }
}

interface Finders {
  readonly member: Awaited<ReturnType<typeof memberByName>>
  readonly variety: Awaited<ReturnType<typeof varietyByName>>
  readonly createVarieties: boolean
}

function treeOfRows(rows: readonly RowReader[], find: Finders): TreeOfRows | null {
  const [first] = rows
  if (!first) return null
  const keepers = rows.map((row) => memberOfRow(row, 'keeper', find.member))
  if (sameOnAll(rows, 'keeper', 80) === '') first.fault('keeper', 'is empty')
  const marks = new Map<string, number>()
  const limbs = rows.map((row, at) => {
    const variety = varietyOfRow(row, find.variety, find.createVarieties)
    const limb = limbOfRow(row, at, rows.length === 1, variety)
    const earlier = marks.get(limb.mark)
    if (earlier !== undefined) row.fault('limb', `${limb.mark} is the limb of line ${earlier} already`)
    marks.set(limb.mark, row.line)
    return limb
  })
  const words = {
    label: first.text('tree', 60),
    rootstock: sameOnAll(rows, 'rootstock', 80),
    place: sameOnAll(rows, 'place', 120),
    note: sameOnAll(rows, 'note', 2000),
  }
  sameOnAll(rows, 'planted_on', 40)
  const plantedOn = rows.map((row) => row.day('planted_on')).find((day) => day !== null) ?? null
  const bad = rows.find((row) => row.faults.length > 0)
  if (bad) {
    for (const row of rows)
      if (row.faults.length === 0) row.fault(null, `is of the same tree as line ${bad.line}`)
  }
  const keeperId = keepers.find((keeper) => keeper !== null)
  return bad || keeperId === undefined || keeperId === null ? null : { ...words, keeperId, plantedOn, limbs }
}

async function readTrees(
  { tx, actor, options }: ImportContext,
  rows: readonly RowReader[],
): Promise<readonly Entry<TreeOfRows>[]> {
  const find = {
    member: await memberByName(tx, actor.groupId),
    variety: await varietyByName(tx, actor.groupId),
    createVarieties: options.createVarieties,
  }
  return byTree(rows).flatMap((own) => {
    const value = treeOfRows(own, find)
    return value ? [{ lines: own.map(({ line }) => line), value }] : []
  })
}

const inputOf = (key: string, tree: TreeOfRows, idOf: (variety: RowVariety) => string) =>
  AddTreeInput.parse({
    key,
    keeperId: tree.keeperId,
    rootstock: tree.rootstock,
    place: tree.place,
    plantedOn: tree.plantedOn ?? undefined,
    note: tree.note,
    limbs: tree.limbs.map(({ variety, heightCm, ...limb }) => ({
      ...limb,
      ...(variety ? { varietyId: idOf(variety) } : {}),
      ...(heightCm === null ? {} : { heightCm }),
    })),
  })

const importer: Importer<TreeOfRows> = {
  kind: 'trees',
  read: readTrees,
  async write(context, entries) {
    const varieties = entries.flatMap(({ value }) => value.limbs.flatMap(({ variety }) => variety ?? []))
    const { idOf, added } = await addNewVarieties(context, varieties)
    const done = await writeByCommand(context, entries, {
      run: (db, { key, value }) => addTree(db, context.actor, inputOf(key, value, idOf)),
      words: treeRefusalWords,
      remark: ({ label }, { code }: AddedTree) =>
        label === '' ? null : `Tree “${label}” has the code ${formatCode(code)}.`,
    })
    const remarks = added.length > 0 ? [`Varieties added: ${added.join(', ')}.`] : []
    return { ...done, remarks: [...remarks, ...done.remarks] }
  },
}

/** Brings trees in from a spreadsheet and gives each a code. One row is one limb. */
export const importTrees = (
  db: Database,
  actor: Actor,
  file: ImportFile,
  options: ImportOptions,
): Promise<Result<ImportReport, ImportRefusal>> => importFile(db, actor, file, options, importer)
