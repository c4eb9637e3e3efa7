/** A cell: text, a number, or nothing. */
export type CsvCell = string | number | null

/** A spreadsheet would run a text that begins like this as a formula. */
const looksLikeFormula = /^[=+\-@\t\r]/

function written(cell: CsvCell): string {
  if (cell === null) return ''
  if (typeof cell === 'number') return String(cell)
  const text = looksLikeFormula.test(cell) ? `'${cell}` : cell
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text
}

/**
 * A table as comma-separated values (RFC 4180), with a byte order mark so that spreadsheets read it as UTF-8.
 * Texts that a spreadsheet would take for a formula are marked with an apostrophe.
 */
export function writeCsv(head: readonly string[], rows: readonly (readonly CsvCell[])[]): string {
  return `\uFEFF${[head, ...rows].map((row) => row.map(written).join(',')).join('\r\n')}\r\n`
}
