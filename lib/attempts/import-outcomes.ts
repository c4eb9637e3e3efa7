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
  type KeyedEntry,
} from '#lib/formats/csv/import-file.ts'
import type { RowReader } from '#lib/formats/csv/row-reader.ts'
import { cultivarSearchKey } from '#lib/grafting/cultivar-name.ts'
import { methods } from '#lib/grafting/methods.ts'
import { type CivilDate, utcMidnight } from '#lib/kernel/civil-date.ts'
import type { Result } from '#lib/kernel/result.ts'
import { memberByName } from '#lib/people/member-by-name.ts'
import { memberOfRow } from '#lib/people/member-of-row.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { addNewVarieties, type RowVariety, varietyOfRow } from '#lib/varieties/import-variety.ts'
import { varietyByName } from '#lib/varieties/variety-by-name.ts'

/** A batch as a spreadsheet tells of it. */
interface Outcome {
  readonly variety: RowVariety
  readonly method: string
  readonly treatment: string | null
  readonly stock: string | null
  readonly growerId: string
  readonly madeOn: CivilDate
  readonly pieces: number
  readonly note: string | null
  /** Null when nobody has looked. */
  readonly look: {
    readonly checkedOn: CivilDate
    readonly alive: number
    readonly dead: number
    readonly unknown: number
  } | null
}

const mostPieces = 10_000
const rowsAtOnce = 1_000

/** "Whip and tongue", "whip-and-tongue", "T-bud" or "shield": a key, a name, or a part of one. */
function findMethodNamed(text: string): string | null {
  const wanted = cultivarSearchKey(text)
  const found = methods.find(({ key, name }) => {
    const [main = '', other = ''] = name.split('(')
    return [key, name, main, other].some((spelt) => spelt !== '' && cultivarSearchKey(spelt) === wanted)
  })
  return found?.key ?? null
}

function methodOfRow(row: RowReader): string | null {
  const text = row.filled('method', 60)
  if (text === '') return null
  const method = findMethodNamed(text)
  if (!method) {
    row.fault('method', `“${text}” is none of: ${methods.map(({ name }) => name.toLowerCase()).join(', ')}`)
  }
  return method
}

function dayOfRow(row: RowReader, column: string, today: CivilDate): CivilDate | null {
  const day = row.day(column)
  if (day === null || day <= today) return day
  row.fault(column, `${day} has not come yet`)
  return null
}

/** The look of a row: null when all of its cells are empty; undefined when a fault was noted. */
function lookOfRow(
  row: RowReader,
  pieces: number | null,
  madeOn: CivilDate | null,
  today: CivilDate,
): Outcome['look'] | undefined {
  const counts = ['alive', 'dead', 'unknown'].map((key) => row.count(key, 0, mostPieces))
  const isCounted = ['alive', 'dead', 'unknown'].some((key) => row.text(key) !== '')
  const checkedOn = dayOfRow(row, 'checked_on', today)
  if (!isCounted && row.text('checked_on') === '') return null
  if (!isCounted) {
    row.fault('alive', 'is empty, and so are dead and unknown, but there is a day of a look')
    return undefined
  }
  if (row.text('checked_on') === '') {
    row.fault('checked_on', 'is empty, but there are counts: say on which day somebody looked')
    return undefined
  }
  if (checkedOn === null || pieces === null) return undefined
  if (madeOn !== null && checkedOn < madeOn) {
    row.fault('checked_on', `${checkedOn} is before the day it was made, ${madeOn}`)
    return undefined
  }
  const [alive, dead, unknown] = counts.map((count) => count ?? 0)
  const sum = (alive ?? 0) + (dead ?? 0) + (unknown ?? 0)
  if (sum !== pieces) {
    row.fault('pieces', `${pieces} were made; alive, dead and unknown come to ${sum}`)
    return undefined
  }
  return { checkedOn, alive: alive ?? 0, dead: dead ?? 0, unknown: unknown ?? 0 }
}

const textOrNull = (text: string) => (text === '' ? null : text)

async function readOutcomes(
  { tx, actor, options, today }: ImportContext,
  rows: readonly RowReader[],
): Promise<readonly Entry<Outcome>[]> {
  const findVariety = await varietyByName(tx, actor.groupId)
  const findMember = await memberByName(tx, actor.groupId)
  return rows.flatMap((row) => {
    row.filled('variety', 100)
    const variety = varietyOfRow(row, findVariety, options.createVarieties)
    const method = methodOfRow(row)
    const growerId = memberOfRow(row, 'grower', findMember) ?? actor.memberId
    const madeOn = dayOfRow(row, 'made_on', today)
    if (row.text('made_on') === '') row.fault('made_on', 'is empty')
    const pieces = row.count('pieces', 1, mostPieces)
    if (row.text('pieces') === '') row.fault('pieces', 'is empty')
    const look = lookOfRow(row, pieces, madeOn, today)
    const words = {
      treatment: textOrNull(row.text('treatment', 120)),
      stock: textOrNull(row.text('stock', 120)),
      note: textOrNull(row.text('note', 2000)),
    }
    if (row.faults.length > 0 || !variety || !method || !madeOn || pieces === null || look === undefined)
      return []
    return [{ lines: [row.line], value: { variety, method, growerId, madeOn, pieces, look, ...words } }]
  })
}

/** Writes batches, their looks and their keys, a thousand at a time. */
async function writeBatches(
  { tx, db, actor }: ImportContext,
  entries: readonly KeyedEntry<Outcome>[],
  idOf: (variety: RowVariety) => string,
): Promise<void> {
  const { groupId, memberId: recordedById } = actor
  const made = entries.map(({ key, value }) => ({ key, value, id: db.newId() }))
  await tx.attempt.createMany({
    data: made.map(({ id, value }) => ({
      groupId,
      id,
      varietyId: idOf(value.variety),
      growerId: value.growerId,
      recordedById,
      method: value.method,
      treatment: value.treatment,
      stock: value.stock,
      madeOn: utcMidnight(value.madeOn),
      pieces: value.pieces,
      sticksUsed: 0,
      note: value.note,
    })),
  })
  await tx.outcomeCheck.createMany({
    data: made.flatMap(({ id, value: { look, pieces } }) =>
      look
        ? [
            {
              groupId,
              id: db.newId(),
              attemptId: id,
              pieces,
              checkedOn: utcMidnight(look.checkedOn),
              alive: look.alive,
              dead: look.dead,
              unknown: look.unknown,
              recordedById,
            },
          ]
        : [],
    ),
  })
  await tx.idempotencyKey.createMany({
    data: made.map(({ key, id }) => ({
      groupId,
      key,
      command: 'import-outcome',
      inputHash: key,
      answer: { attemptId: id },
      createdAt: db.now(),
    })),
  })
}

const importer: Importer<Outcome> = {
  kind: 'outcomes',
  read: readOutcomes,
  async write(context, entries) {
    const { idOf, added } = await addNewVarieties(
      context,
      entries.map(({ value }) => value.variety),
    )
    for (let at = 0; at < entries.length; at += rowsAtOnce) {
      await writeBatches(context, entries.slice(at, at + rowsAtOnce), idOf)
    }
    const remarks = added.length > 0 ? [`Varieties added: ${added.join(', ')}.`] : []
    return { written: entries.length, faults: [], remarks }
  },
}

/**
 * Takes over grafts and cuttings with their outcomes from a spreadsheet. Their wood was never in the ledger, so
 * no sticks move. One row is one batch; its columns are in `lib/formats/csv/columns.ts`.
 */
export const importOutcomes = (
  db: Database,
  actor: Actor,
  file: ImportFile,
  options: ImportOptions,
): Promise<Result<ImportReport, ImportRefusal>> => importFile(db, actor, file, options, importer)
