import { chosenByEntrant, keptByLot, roomOf, type ShareKind } from '#lib/allotment/choices.ts'
import { deferredAcceptance } from '#lib/allotment/deferred-acceptance.ts'
import { describeDrawFault, diceFaults, listFaults } from '#lib/allotment/draw-faults.ts'
import {
  byText,
  type DrawEntrant,
  type DrawList,
  type DrawOffering,
  type DrawRules,
  ticketsOf,
} from '#lib/allotment/draw-list.ts'
import { ticketNumber } from '#lib/allotment/list-fingerprint.ts'
import { required } from '#lib/kernel/assert.ts'

export { listFingerprint } from '#lib/allotment/list-fingerprint.ts'

export interface Ticket {
  readonly lotCode: string
  readonly memberCode: string
  /** As it is hashed: `K7Q-2AB/1`. */
  readonly ticket: string
  /** SHA-256 in 64 hexadecimal digits. */
  readonly number: string
  /** Its place in the lot's order, from 1, the lowest number first. */
  readonly place: number
  /** Whether it is the best ticket that the person has for the lot. Only that one counts. */
  readonly counts: boolean
}

/** A share that somebody gets. */
export interface Allotment {
  readonly lotCode: string
  readonly memberCode: string
  readonly ticket: string
  readonly number: string
  readonly kind: ShareKind
  /** Where the lot stood in the person's wishes, from 1. */
  readonly rank: number
  readonly sticks: number
}

/** Somebody who wanted a lot and did not get it, in the order in which shares that come free are offered. */
export interface Waiting {
  readonly lotCode: string
  readonly memberCode: string
  readonly ticket: string
  readonly number: string
  /** From 1. */
  readonly place: number
  readonly rank: number
  /** The person may hold no more of this variety, or no more at all: a share can go to them only in exchange. */
  readonly isCapFull: boolean
}

export interface Draw {
  /** By lot, then place. */
  readonly tickets: readonly Ticket[]
  /** By lot, then number. */
  readonly allotments: readonly Allotment[]
  /** By lot, then place. */
  readonly waiting: readonly Waiting[]
}

export interface DrawInput extends DrawList {
  /** What the dice showed, or another public number, as typed. */
  readonly dice: string
}

/**
 * A draw: tickets and their numbers, who gets which share, who waits. Needs nothing but its input, so it gives the
 * same anywhere, whatever the order in which the list arrives.
 *
 * What it promises: nobody who wanted a lot and had a lower number than somebody who got it was passed over, unless
 * their limit (in all, or of that variety) was already filled with shares they ranked above it. For shares kept for
 * newcomers or donors the promise holds among those. `passedOver` checks it. With a limit of one share in all, no
 * other ranking ever gets anybody something better than their honest one; with a larger limit that cannot be
 * promised together with the rest (see the tests).
 *
 * @throws RangeError when `listFaults` or `diceFaults` find anything: ask those first, for words.
 */
export function runDraw({ dice, ...list }: DrawInput): Draw {
  const [fault] = [...diceFaults(dice), ...listFaults(list)]
  if (fault) throw new RangeError(describeDrawFault(fault))
  const tickets = numberTickets(dice, list)
  const best = new Map(
    tickets
      .filter(({ counts }) => counts)
      .map((ticket) => [keyOf(ticket.lotCode, ticket.memberCode), ticket]),
  )
  const kinds = shareOut(list, best)
  return { tickets, ...outcome(list, best, kinds) }
}

const keyOf = (lotCode: string, memberCode: string) => `${lotCode} ${memberCode}`

const byLotThenNumber = (a: { lotCode: string; number: string }, b: { lotCode: string; number: string }) =>
  byText(a.lotCode, b.lotCode) || byText(a.number, b.number)

/** Every ticket of a list with its number, in each lot's order. */
function numberTickets(dice: string, { entrants, rules }: DrawList): readonly Ticket[] {
  const unplaced = entrants
    .flatMap((entrant) =>
      entrant.wishes.flatMap((lotCode) =>
        ticketsOf(entrant, rules).map((ticket) => ({
          lotCode,
          memberCode: entrant.memberCode,
          ticket,
          number: ticketNumber(dice, lotCode, ticket),
        })),
      ),
    )
    .sort(byLotThenNumber)
  const seen = new Set<string>()
  const last = new Map<string, number>()
  return unplaced.map((ticket) => {
    const place = (last.get(ticket.lotCode) ?? 0) + 1
    last.set(ticket.lotCode, place)
    const key = keyOf(ticket.lotCode, ticket.memberCode)
    const counts = !seen.has(key)
    seen.add(key)
    return { ...ticket, place, counts }
  })
}

/** Which kind of share each person gets of which lot, by deferred acceptance. */
function shareOut(
  { offerings, entrants, rules }: DrawList,
  best: ReadonlyMap<string, Ticket>,
): ReadonlyMap<string, ShareKind> {
  const offeringOf = new Map(offerings.map((offering) => [offering.lotCode, offering]))
  const entrantOf = new Map(entrants.map((entrant) => [entrant.memberCode, entrant]))
  const offering = (lotCode: string) => required(offeringOf.get(lotCode), `offering ${lotCode}`)
  const entrant = (memberCode: string) => required(entrantOf.get(memberCode), `entrant ${memberCode}`)
  const keep = (lotCode: string, people: readonly string[]) =>
    keptByLot(
      offering(lotCode),
      people
        .map((memberCode) => required(best.get(keyOf(lotCode, memberCode)), `ticket of ${memberCode}`))
        .sort((a, b) => a.place - b.place)
        .map(({ memberCode }) => {
          const { isDonor = false, isNewcomer = false } = entrant(memberCode)
          return { memberCode, isDonor, isNewcomer }
        }),
    )
  const kept = deferredAcceptance({
    wishes: new Map(entrants.map(({ memberCode, wishes }) => [memberCode, wishes])),
    chosenBy: (memberCode, lots) =>
      chosenByEntrant(entrant(memberCode), lots, (lotCode) => offering(lotCode).variety, rules),
    keptBy: (lotCode, people) => keep(lotCode, people).map(({ memberCode }) => memberCode),
  })
  return new Map(
    [...kept].flatMap(([lotCode, people]) =>
      keep(lotCode, people).map(({ memberCode, kind }) => [keyOf(lotCode, memberCode), kind] as const),
    ),
  )
}

/** Who got what, and who waits for what, of one person. */
function outcomeOf(
  entrant: DrawEntrant,
  rules: DrawRules,
  offeringOf: ReadonlyMap<string, DrawOffering>,
  best: ReadonlyMap<string, Ticket>,
  kinds: ReadonlyMap<string, ShareKind>,
) {
  const room = roomOf(entrant, rules)
  const rows = entrant.wishes.map((lotCode, i) => {
    const { memberCode, ticket, number } = required(best.get(keyOf(lotCode, entrant.memberCode)), 'a ticket')
    const { variety, sticksPerShare } = required(offeringOf.get(lotCode), `offering ${lotCode}`)
    const kind = kinds.get(keyOf(lotCode, memberCode))
    if (kind !== undefined) room.take(variety)
    return { row: { lotCode, memberCode, ticket, number, rank: i + 1 }, kind, variety, sticksPerShare }
  })
  return {
    allotments: rows.flatMap(({ row, kind, sticksPerShare }) =>
      kind === undefined ? [] : [{ ...row, kind, sticks: sticksPerShare }],
    ),
    waiting: rows.flatMap(({ row, kind, variety }) =>
      kind === undefined ? [{ ...row, isCapFull: !room.hasRoomFor(variety) }] : [],
    ),
  }
}

function outcome(
  list: DrawList,
  best: ReadonlyMap<string, Ticket>,
  kinds: ReadonlyMap<string, ShareKind>,
): Omit<Draw, 'tickets'> {
  const offeringOf = new Map(list.offerings.map((offering) => [offering.lotCode, offering]))
  const people = list.entrants.map((entrant) => outcomeOf(entrant, list.rules, offeringOf, best, kinds))
  const last = new Map<string, number>()
  return {
    allotments: people.flatMap(({ allotments }) => allotments).sort(byLotThenNumber),
    waiting: people
      .flatMap(({ waiting }) => waiting)
      .sort(byLotThenNumber)
      .map((row) => {
        const place = (last.get(row.lotCode) ?? 0) + 1
        last.set(row.lotCode, place)
        return { ...row, place }
      }),
  }
}
