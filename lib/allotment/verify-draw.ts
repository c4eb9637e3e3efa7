import { type DrawFault, diceFaults, listFaults } from '#lib/allotment/draw-faults.ts'
import { byText } from '#lib/allotment/draw-list.ts'
import { listFingerprint } from '#lib/allotment/list-fingerprint.ts'
import { type PassedOver, passedOver } from '#lib/allotment/passed-over.ts'
import type { PublishedDraw } from '#lib/allotment/published-draw.ts'
import { runDraw } from '#lib/allotment/run-draw.ts'

export type DrawPart = 'tickets' | 'allotments' | 'waiting'

/** A row in which the published draw and the one run again differ. */
export interface DrawDifference {
  readonly part: DrawPart
  readonly lotCode: string
  readonly ticket: string
  readonly is: 'only-published' | 'missing' | 'different'
}

/** What running a published draw again found. */
export type DrawCheck =
  | { readonly kind: 'cannot-run'; readonly faults: readonly DrawFault[] }
  | {
      readonly kind: 'ran'
      /** The fingerprint of the list as it stands in the file, worked out afresh. */
      readonly fingerprint: string
      /** It is the published one, and the one from outside where that was given. */
      readonly fingerprintHolds: boolean
      readonly ticketsHold: boolean
      /** Shares and waiting order both. */
      readonly resultHolds: boolean
      readonly differences: readonly DrawDifference[]
      /** Who was passed over in the published result against the promise. */
      readonly passedOver: readonly PassedOver[]
      readonly allHolds: boolean
    }

interface Row {
  readonly lotCode: string
  readonly ticket: string
}

const fieldsOf = (row: Row) => JSON.stringify(Object.entries(row).sort(([a], [b]) => byText(a, b)))

function compare(
  part: DrawPart,
  published: readonly Row[],
  again: readonly Row[],
): readonly DrawDifference[] {
  const keyOf = ({ lotCode, ticket }: Row) => `${lotCode} ${ticket}`
  const waiting = new Map(again.map((row) => [keyOf(row), row]))
  const differences = published.flatMap((row): readonly DrawDifference[] => {
    const { lotCode, ticket } = row
    const other = waiting.get(keyOf(row))
    if (!other) return [{ part, lotCode, ticket, is: 'only-published' }]
    waiting.delete(keyOf(row))
    return fieldsOf(row) === fieldsOf(other) ? [] : [{ part, lotCode, ticket, is: 'different' }]
  })
  const missing = [...waiting.values()].map(
    ({ lotCode, ticket }) => ({ part, lotCode, ticket, is: 'missing' }) as const,
  )
  return [...differences, ...missing]
}

/**
 * Runs a published draw again and compares. `mailedFingerprint` is the one that went round before the dice were
 * thrown: without it the check cannot know that the list in the file is the list of that day.
 */
export function verifyDraw(published: PublishedDraw, mailedFingerprint?: string): DrawCheck {
  const { list, dice } = published
  const faults = [...diceFaults(dice), ...listFaults(list)]
  if (faults.length > 0) return { kind: 'cannot-run', faults }
  const again = runDraw({ dice, ...list })
  const fingerprint = listFingerprint(list)
  const mailed = mailedFingerprint?.trim().toLowerCase() ?? fingerprint
  const ofTickets = compare('tickets', published.tickets, again.tickets)
  const ofResult = [
    ...compare('allotments', published.allotments, again.allotments),
    ...compare('waiting', published.waiting, again.waiting),
  ]
  const over = passedOver(list, { ...again, allotments: published.allotments })
  const fingerprintHolds = fingerprint === published.fingerprint && fingerprint === mailed
  const ticketsHold = ofTickets.length === 0
  const resultHolds = ofResult.length === 0
  return {
    kind: 'ran',
    fingerprint,
    fingerprintHolds,
    ticketsHold,
    resultHolds,
    differences: [...ofTickets, ...ofResult],
    passedOver: over,
    allHolds: fingerprintHolds && ticketsHold && resultHolds && over.length === 0,
  }
}
