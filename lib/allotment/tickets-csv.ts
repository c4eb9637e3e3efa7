import { byText, grouped } from '#lib/allotment/draw-list.ts'
import { ticketNumber, ticketText } from '#lib/allotment/list-fingerprint.ts'
import type { Draw } from '#lib/allotment/run-draw.ts'

export const ticketColumns = [
  'lot',
  'place',
  'ticket',
  'member',
  'counts',
  'hashed',
  'number',
  'result',
] as const

export type TicketColumn = (typeof ticketColumns)[number]

/** Quotes a field where RFC 4180 needs it, and keeps a spreadsheet from reading it as a formula. */
function field(value: string): string {
  const harmless = /^[=+\-@\t\r]/.test(value) ? `'${value}` : value
  return /[",\r\n]/.test(harmless) ? `"${harmless.replaceAll('"', '""')}"` : harmless
}

/**
 * All tickets as a table (RFC 4180, CRLF): lot, place in its order, ticket, member, whether it is the person's best
 * for the lot, what was hashed, its number, and what came of it. `sha256sum` of the column “hashed” is “number”.
 */
export function ticketsCsv(dice: string, { tickets, allotments, waiting }: Draw): string {
  const results = new Map<string, string>([
    ...allotments.map(({ lotCode, ticket, kind }) => [`${lotCode} ${ticket}`, `${kind} share`] as const),
    ...waiting.map(({ lotCode, ticket, place }) => [`${lotCode} ${ticket}`, `waiting ${place}`] as const),
  ])
  const rows = tickets.map(({ lotCode, place, ticket, memberCode, counts, number }) => [
    lotCode,
    String(place),
    ticket,
    memberCode,
    counts ? 'yes' : 'no',
    ticketText(dice, lotCode, ticket),
    number,
    results.get(`${lotCode} ${ticket}`) ?? 'another ticket was better',
  ])
  return [ticketColumns, ...rows].map((row) => `${row.map(field).join(',')}\r\n`).join('')
}

export interface TicketRowFault {
  /** Of the table, the line of names not counted, from 1. */
  readonly row: number
  readonly is: 'number' | 'place' | 'counts' | 'hashed'
}

type TicketRow = Readonly<Record<TicketColumn, string>>

/** A formula guard taken off again. */
const bare = (value: string) => value.replace(/^'(?=[=+\-@])/, '')

/**
 * Checks the rows of a table of tickets by themselves: that every number is that of what was hashed, that the dice
 * are the same in all, and that each lot's places go by number. A table holds no wishes and limits, so it cannot
 * show that the shares were given rightly; the published file can.
 */
export function ticketRowFaults(rows: readonly TicketRow[]): readonly TicketRowFault[] {
  const diceOf = (row: TicketRow) => bare(row.hashed).split('|')[0] ?? ''
  const [first] = rows
  const dice = first ? diceOf(first) : ''
  const numbers = rows.flatMap((row, i): readonly TicketRowFault[] => [
    ...(bare(row.hashed) === ticketText(dice, row.lot, row.ticket)
      ? []
      : [{ row: i + 1, is: 'hashed' } as const]),
    ...(row.number === ticketNumber(dice, row.lot, row.ticket)
      ? []
      : [{ row: i + 1, is: 'number' } as const]),
  ])
  const lots = grouped(
    rows.map((row, i) => ({ row, at: i + 1 })),
    ({ row }) => row.lot,
  )
  const order = [...lots.values()].flatMap((ofLot) => {
    const seen = new Set<string>()
    return ofLot
      .toSorted((a, b) => byText(a.row.number, b.row.number))
      .flatMap(({ row, at }, i): readonly TicketRowFault[] => {
        const isBest = !seen.has(row.member)
        seen.add(row.member)
        return [
          ...(row.place === String(i + 1) ? [] : [{ row: at, is: 'place' } as const]),
          ...(row.counts === (isBest ? 'yes' : 'no') ? [] : [{ row: at, is: 'counts' } as const]),
        ]
      })
  })
  return [...numbers, ...order].toSorted((a, b) => a.row - b.row)
}
