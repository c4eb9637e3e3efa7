import type { ImportRefusal, ImportReport } from '#lib/formats/csv/import-file.ts'
import type { RowFault } from '#lib/formats/csv/row-reader.ts'
import { assertNever } from '#lib/kernel/assert.ts'

const counted = (count: number, one: string) => `${count} ${count === 1 ? one : `${one}s`}`

/** "line 7, made on: “31.4.2026” is not a day". */
const faultWords = ({ line, column, why }: RowFault): string =>
  column === null ? `line ${line} ${why}` : `line ${line}, ${column}: ${why}`

const nothing = 'Nothing was written.'
/** Enough of them to see what is meant. */
const doubtsShown = 5

/** Says why a file was not imported, a line each. */
export function importRefusalLines(refusal: ImportRefusal): readonly string[] {
  switch (refusal.kind) {
    case 'not-allowed':
      return [`Importing takes the role of ${refusal.roles.join(' or ')}. ${nothing}`]
    case 'empty-file':
      return [`The file is empty. ${nothing}`]
    case 'no-rows':
      return [`The file has a heading and no rows. ${nothing}`]
    case 'not-a-table':
      return [`The file cannot be read as a table from line ${refusal.line} on: ${refusal.why}. ${nothing}`]
    case 'columns-missing':
      return [
        `There is no column ${refusal.missing.map((name) => `“${name}”`).join(' and none ')}.`,
        `The file has: ${refusal.there.join(', ')}.`,
        `Name the columns in the first line; --help lists what they may be called. ${nothing}`,
      ]
    case 'column-twice':
      return [
        `Two columns could be “${refusal.column}”: ${refusal.headings.join(' and ')}. Rename one. ${nothing}`,
      ]
    case 'same-file':
      return [
        `This very file was imported on ${refusal.on} as ${refusal.file}, and ${refusal.written} ${refusal.written === 1 ? 'entry' : 'entries'} came of it.`,
        `To bring in more rows, add them to the file, save it, and import it with --skip-bad: rows that are here already are left out. ${nothing}`,
      ]
    case 'days-in-doubt':
      return [
        ...refusal.doubts
          .slice(0, doubtsShown)
          .map(
            ({ line, column, text, readings }) =>
              `line ${line}, ${column}: “${text}” may be ${readings[0]} or ${readings[1]}`,
          ),
        `${counted(refusal.doubts.length, 'day')} can be read two ways. Say --dates dmy (day first) or --dates mdy (month first). ${nothing}`,
      ]
    case 'bad-rows':
      return [
        ...refusal.faults.map(faultWords),
        `${counted(new Set(refusal.faults.map(({ line }) => line)).size, 'row')} cannot be read as they are; ${refusal.good} can. ${nothing}`,
        refusal.good > 0
          ? 'Put them right and import again, or import the others with --skip-bad.'
          : 'Put them right and import again.',
      ]
    default:
      return assertNever(refusal)
  }
}

/** What an entry of each kind is called. */
const entryNames = {
  outcomes: ['batch', 'batches'],
  members: ['person', 'people'],
  trees: ['tree', 'trees'],
  lots: ['lot', 'lots'],
} as const

/** Says what an import did, a line each. */
export function importReportLines(
  report: ImportReport,
  kind: keyof typeof entryNames,
  dryRun: boolean,
): readonly string[] {
  const [one, many] = entryNames[kind]
  const left = new Set(report.leftOut.map(({ line }) => line)).size
  return [
    ...report.leftOut.map((fault) => `left out: ${faultWords(fault)}`),
    ...(report.encoding === 'windows-1252'
      ? ['The file is not UTF-8; it was read as Windows-1252. Look at names with accents.']
      : []),
    ...(report.unread.length > 0 ? [`Columns not read: ${report.unread.join(', ')}.`] : []),
    ...report.remarks,
    `${counted(report.rows, 'row')} read, ${report.written} ${report.written === 1 ? one : many} ${dryRun ? 'would be written' : 'written'}, ${counted(left, 'row')} left out.`,
    ...(dryRun ? ['This was a dry run: nothing was written.'] : []),
  ]
}
