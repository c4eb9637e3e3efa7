import { readFile } from 'node:fs/promises'
import { resolve } from 'node:path'
import { fileURLToPath } from 'node:url'
import { CsvError, parse } from 'csv-parse/sync'
import { describeDrawFault } from '#lib/allotment/draw-faults.ts'
import { readPublishedDraw } from '#lib/allotment/published-draw.ts'
import { type TicketColumn, ticketColumns, ticketRowFaults } from '#lib/allotment/tickets-csv.ts'
import { type DrawCheck, type DrawDifference, verifyDraw } from '#lib/allotment/verify-draw.ts'
import { reportAndExit, Stop } from './steps.mjs'

const usage = `npm run verify-draw -- FILE [FINGERPRINT]

  FILE         a draw as its proof page publishes it: the whole draw (.json), or its table of tickets (.csv)
  FINGERPRINT  the one that was mailed before the dice were thrown; it shows that the list is still that one

Runs the draw again and says whether fingerprint, tickets and result hold. Needs no database and no network.`

export interface VerifyAnswer {
  readonly holds: boolean
  readonly lines: readonly string[]
}

const no = (...lines: readonly string[]): VerifyAnswer => ({ holds: false, lines })

const mostShown = 10

function shown(rows: readonly string[]): readonly string[] {
  const left = rows.length - mostShown
  return [...rows.slice(0, mostShown), ...(left > 0 ? [`… and ${left} more`] : [])].map((row) => `  ${row}`)
}

const partWords = { tickets: 'ticket', allotments: 'share', waiting: 'place in the waiting order' } as const

function differenceWords({ part, lotCode, ticket, is }: DrawDifference): string {
  const what = `${partWords[part]} of ${ticket} for ${lotCode}`
  if (is === 'only-published') return `The ${what} is published, but does not come out of the draw.`
  if (is === 'missing') return `The ${what} comes out of the draw, but is not published.`
  return `The ${what} is published otherwise than it comes out.`
}

function checkLines(
  check: Extract<DrawCheck, { kind: 'ran' }>,
  mailed: string | undefined,
): readonly string[] {
  const { fingerprint, fingerprintHolds, ticketsHold, resultHolds, differences, passedOver } = check
  return [
    fingerprintHolds
      ? `The fingerprint holds: ${fingerprint}`
      : `The fingerprint does not hold: the list in this file has ${fingerprint}.`,
    ...(mailed === undefined
      ? [
          'Compare it with the one that was mailed before the dice were thrown, or give that one after the file.',
        ]
      : []),
    ticketsHold ? 'The tickets hold: every number and place is right.' : 'The tickets do not hold.',
    resultHolds ? 'The result holds: the same people get the same shares.' : 'The result does not hold.',
    passedOver.length === 0
      ? 'Nobody was passed over.'
      : `Passed over: ${passedOver.map(({ memberCode, lotCode }) => `${memberCode} for ${lotCode}`).join(', ')}.`,
    ...shown(differences.map(differenceWords)),
  ]
}

function verifyJson(text: string, mailed: string | undefined): VerifyAnswer {
  const read = readPublishedDraw(text)
  if (!read.ok) {
    return read.refusal.kind === 'not-json'
      ? no('This file is not a published draw: it is not JSON.')
      : no(`This file is not a published draw: “${read.refusal.where}”: ${read.refusal.message}.`)
  }
  const check = verifyDraw(read.value, mailed)
  if (check.kind === 'cannot-run') {
    return no('This list cannot be drawn from.', ...shown(check.faults.map(describeDrawFault)))
  }
  return { holds: check.allHolds, lines: checkLines(check, mailed) }
}

const faultWords = {
  number: 'the number is not that of dice, lot and ticket',
  hashed: 'what was hashed is not dice, lot and ticket, or has other dice than the first line',
  place: 'the place does not go by number',
  counts: '“counts” does not mark the best ticket of the person',
} as const

function verifyCsv(text: string): VerifyAnswer {
  const [names = [], ...rows] = parse(text, { bom: true }) as string[][]
  if (names.join() !== ticketColumns.join()) {
    return no(`This table is not one of tickets. Its first line should be: ${ticketColumns.join()}`)
  }
  const faults = ticketRowFaults(
    rows.map((row) => {
      const at = (name: TicketColumn) => row[ticketColumns.indexOf(name)] ?? ''
      return {
        lot: at('lot'),
        place: at('place'),
        ticket: at('ticket'),
        member: at('member'),
        counts: at('counts'),
        hashed: at('hashed'),
        number: at('number'),
        result: at('result'),
      }
    }),
  )
  if (faults.length > 0) {
    return no(
      'The tickets do not hold.',
      ...shown(faults.map(({ row, is }) => `Ticket ${row}: ${faultWords[is]}.`)),
    )
  }
  const lines = [
    `The tickets hold: ${rows.length} numbers and places are right.`,
    'A table of tickets holds no wishes, limits and list. Fingerprint and result can be checked with the .json file.',
  ]
  return { holds: true, lines }
}

/** The command: what the words after `npm run verify-draw --` do, and what is to be printed. */
export async function verifyDrawCommand(args: readonly string[]): Promise<VerifyAnswer> {
  const [file, mailed, ...more] = args
  if (file === '--help') return { holds: true, lines: usage.split('\n') }
  if (file === undefined || more.length > 0) return no('Name one file. See npm run verify-draw -- --help.')
  let text: string
  try {
    text = await readFile(file, 'utf8')
  } catch (error) {
    if (!(error instanceof Error && 'code' in error)) throw error
    return no(`${file} cannot be read (${String(error.code)}).`)
  }
  if (!file.toLowerCase().endsWith('.csv')) return verifyJson(text, mailed)
  try {
    return verifyCsv(text)
  } catch (error) {
    if (!(error instanceof CsvError)) throw error
    return no(`This is not a table that can be read: ${error.message}`)
  }
}

async function main(): Promise<void> {
  const { holds, lines } = await verifyDrawCommand(process.argv.slice(2))
  if (!holds) reportAndExit(new Stop(lines.join('\n')))
  console.log(lines.join('\n'))
}

if (process.argv[1] && resolve(process.argv[1]) === fileURLToPath(import.meta.url)) await main()
