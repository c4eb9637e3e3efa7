import type { Column } from '#lib/formats/csv/columns.ts'
import type { TableRow } from '#lib/formats/csv/read-table.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'

/** Which cell of a row belongs to which column. */
export interface Header {
  readonly columns: readonly { readonly key: string; readonly at: number; readonly heading: string }[]
  /** Headings that no column answers to. */
  readonly unread: readonly string[]
  /** Cells in the heading. */
  readonly width: number
}

export type HeaderRefusal =
  | {
      readonly kind: 'columns-missing'
      readonly missing: readonly string[]
      readonly there: readonly string[]
    }
  | { readonly kind: 'column-twice'; readonly column: string; readonly headings: readonly string[] }

/** Small letters and digits alone: "Made on:" and "made_on" are one heading. */
const folded = (text: string) =>
  text
    .normalize('NFKD')
    .toLowerCase()
    .replace(/[^\p{Letter}\p{Number}]/gu, '')

/** Finds the columns of an import in a heading, wherever they stand and however they are spelt. */
export function matchHeader(heading: TableRow, columns: readonly Column[]): Result<Header, HeaderRefusal> {
  const found = heading.cells.map((text, at) => ({
    text,
    at,
    column: columns.find(({ key, names }) => [key, ...names].some((name) => folded(name) === folded(text))),
  }))
  for (const column of columns) {
    const headings = found.filter((cell) => cell.column === column).map(({ text }) => text)
    if (headings.length > 1) return refuse({ kind: 'column-twice', column: column.names[0], headings })
  }
  const missing = columns
    .filter((column) => column.isRequired && !found.some((cell) => cell.column === column))
    .map(({ names }) => names[0])
  const there = heading.cells.filter((text) => text !== '')
  if (missing.length > 0) return refuse({ kind: 'columns-missing', missing, there })
  return ok({
    columns: found.flatMap(({ text, at, column }) =>
      column ? [{ key: column.key, at, heading: text }] : [],
    ),
    unread: found.filter(({ text, column }) => text !== '' && !column).map(({ text }) => text),
    width: heading.cells.length,
  })
}
