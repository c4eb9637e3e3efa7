import type { Actor } from '#lib/access/actor.ts'
import { findMethod, methods } from '#lib/grafting/methods.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { inGroups, type OutcomeRow, outcomeRow } from '#lib/results/outcome-rate.ts'
import { type OutcomeTally, outcomeTallies, type ResultsFilter } from '#lib/results/outcome-tallies.ts'

/** Grafts and buds take; cuttings and layers root. The two are never added together. */
export type ResultsSide = 'grafts' | 'rooting'

export interface VarietyResult extends OutcomeRow {
  readonly varietyId: string
  readonly varietyName: string
  readonly commonName: string
}

export interface TreatmentResult extends OutcomeRow {
  /** Null for the batches without one. */
  readonly treatment: string | null
}

export interface MethodResult extends OutcomeRow {
  readonly method: string
  readonly methodName: string
  /** Empty when no batch of the method names a treatment. */
  readonly treatments: readonly TreatmentResult[]
}

/** One side of the results: its rows, and what the rows with a rate come to together. */
export interface ResultsTable<Row> {
  readonly rows: readonly Row[]
  /** Of the rows that show a rate alone, so that no hidden outcome can be found by taking away. */
  readonly total: OutcomeRow
  /** All pieces, and those whose outcome is known: no outcome is told by either. */
  readonly pieces: number
  readonly known: number
  readonly earlyAttempts: number
  readonly earlyPieces: number
}

export type ResultsBy<Row> = Readonly<Record<ResultsSide, ResultsTable<Row>>>

const sideOf = (tally: OutcomeTally): ResultsSide =>
  findMethod(tally.method)?.successWord === 'rooted' ? 'rooting' : 'grafts'

const byText = (a: string, b: string) => a.localeCompare(b, 'en')

const isShown = (row: OutcomeRow) => row.rate.kind === 'shown'

/** Rows with what they are made of, as a table. */
function table<Row extends OutcomeRow>(
  made: readonly { readonly row: Row; readonly of: readonly OutcomeTally[] }[],
): ResultsTable<Row> {
  const all = made.flatMap(({ of }) => of)
  const sum = (number: (tally: OutcomeTally) => number) =>
    all.reduce((total, tally) => total + number(tally), 0)
  return {
    rows: made.map(({ row }) => row),
    total: outcomeRow(made.filter(({ row }) => isShown(row)).flatMap(({ of }) => of)),
    pieces: sum((tally) => tally.pieces),
    known: sum((tally) => tally.alive + tally.dead),
    earlyAttempts: sum((tally) => tally.earlyAttempts),
    earlyPieces: sum((tally) => tally.earlyPieces),
  }
}

function varietyTable(tallies: readonly OutcomeTally[]): ResultsTable<VarietyResult> {
  const made = [...inGroups(tallies, (tally) => tally.varietyId)].flatMap(([varietyId, of]) => {
    const [first] = of
    if (!first) return []
    const { varietyName, commonName } = first
    return [{ row: { varietyId, varietyName, commonName, ...outcomeRow(of) }, of }]
  })
  return table(
    made.sort(
      (a, b) => byText(a.row.commonName, b.row.commonName) || byText(a.row.varietyName, b.row.varietyName),
    ),
  )
}

function treatmentsOf(tallies: readonly OutcomeTally[]): readonly TreatmentResult[] {
  const groups = [...inGroups(tallies, (tally) => tally.treatment)]
  if (groups.every(([treatment]) => treatment === null)) return []
  return groups
    .map(([treatment, of]) => ({ treatment, ...outcomeRow(of) }))
    .sort((a, b) => byText(a.treatment ?? '', b.treatment ?? ''))
}

/** The order of the form that records them; unknown methods last. */
function methodPlace(method: string): number {
  const place = methods.findIndex(({ key }) => key === method)
  return place < 0 ? methods.length : place
}

function methodTable(tallies: readonly OutcomeTally[]): ResultsTable<MethodResult> {
  const made = [...inGroups(tallies, (tally) => tally.method)].map(([method, of]) => ({
    row: {
      method,
      methodName: findMethod(method)?.name ?? method,
      treatments: treatmentsOf(of),
      ...outcomeRow(of),
    },
    of,
  }))
  return table(made.sort((a, b) => methodPlace(a.row.method) - methodPlace(b.row.method)))
}

function bySide<Row>(
  tallies: readonly OutcomeTally[],
  tableOf: (tallies: readonly OutcomeTally[]) => ResultsTable<Row>,
): ResultsBy<Row> {
  return {
    grafts: tableOf(tallies.filter((tally) => sideOf(tally) === 'grafts')),
    rooting: tableOf(tallies.filter((tally) => sideOf(tally) === 'rooting')),
  }
}

export interface Results {
  readonly byVariety: ResultsBy<VarietyResult>
  readonly byMethod: ResultsBy<MethodResult>
}

/** Both tables of the results page, out of one statement. */
export async function getResults(db: Database, actor: Actor, filter: ResultsFilter = {}): Promise<Results> {
  const tallies = await outcomeTallies(db, actor, filter)
  return { byVariety: bySide(tallies, varietyTable), byMethod: bySide(tallies, methodTable) }
}

/** Take and rooting of each variety, by crop and then by name: never by rank. */
export async function resultsByVariety(
  db: Database,
  actor: Actor,
  filter: ResultsFilter = {},
): Promise<ResultsBy<VarietyResult>> {
  return bySide(await outcomeTallies(db, actor, filter), varietyTable)
}

/** Take and rooting of each method, with its treatments, in the order of the form. */
export async function resultsByMethod(
  db: Database,
  actor: Actor,
  filter: ResultsFilter = {},
): Promise<ResultsBy<MethodResult>> {
  return bySide(await outcomeTallies(db, actor, filter), methodTable)
}
