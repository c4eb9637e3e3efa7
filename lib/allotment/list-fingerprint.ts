import { sha256 } from '@noble/hashes/sha2.js'
import { bytesToHex, utf8ToBytes } from '@noble/hashes/utils.js'
import { normaliseDice } from '#lib/allotment/draw-faults.ts'
import { byText, type DrawEntrant, type DrawList, type DrawOffering } from '#lib/allotment/draw-list.ts'

/** SHA-256 (FIPS 180-4) of a text as UTF-8, in 64 small hexadecimal digits, as `sha256sum` prints it. */
const sha256Hex = (text: string): string => bytesToHex(sha256(utf8ToBytes(text)))

function offeringLine(offering: DrawOffering): string {
  const { lotCode, variety, shares, sticksPerShare, newcomerShares = 0, donorShares = 0 } = offering
  return `lot ${lotCode} variety ${variety} shares ${shares} sticks ${sticksPerShare} newcomers ${newcomerShares} donors ${donorShares}`
}

function entrantLine(entrant: DrawEntrant): string {
  const { memberCode, wishes, isDonor = false, isNewcomer = false } = entrant
  const held = [...heldByVariety(entrant)]
    .filter(([, shares]) => shares > 0)
    .sort(([a], [b]) => byText(a, b))
    .map(([variety, shares]) => `${variety}=${shares}`)
  return [
    `entrant ${memberCode}`,
    ...(isDonor ? ['donor'] : []),
    ...(isNewcomer ? ['newcomer'] : []),
    ...(held.length > 0 ? ['holds', ...held] : []),
    ['wishes', ...wishes].join(' '),
  ].join(' ')
}

/** Shares held already, each variety once. */
export function heldByVariety({ held = [] }: DrawEntrant): ReadonlyMap<string, number> {
  const sums = new Map<string, number>()
  for (const { variety, shares } of held) sums.set(variety, (sums.get(variety) ?? 0) + shares)
  return sums
}

/**
 * The list of a draw as text that anybody can write out again. Every line ends with one line feed:
 *
 * 1. `tallywood draw list 1`
 * 2. `rules cap 3 per-variety 1 donor-tickets 2`
 * 3. one line per lot, by code: `lot 4TK-7WA variety bramley shares 3 sticks 2 newcomers 1 donors 0`
 * 4. one line per person, by code: `entrant K7Q-2AB donor newcomer holds bramley=1 wishes 4TK-7WA 9XM-3CD`, with
 *    the words that hold for the person only, varieties held by name, and wishes in the person's own order.
 *
 * Sorting is by character code (`LC_ALL=C sort`). The order in which a list arrives changes nothing.
 */
export function canonicalList({ offerings, entrants, rules }: DrawList): string {
  const lots = [...offerings].sort((a, b) => byText(a.lotCode, b.lotCode))
  const people = [...entrants].sort((a, b) => byText(a.memberCode, b.memberCode))
  return [
    'tallywood draw list 1',
    `rules cap ${rules.capPerMember} per-variety ${rules.capPerVariety} donor-tickets ${rules.ticketsPerDonor}`,
    ...lots.map(offeringLine),
    ...people.map(entrantLine),
    '',
  ].join('\n')
}

/** The fingerprint of a list: SHA-256 of `canonicalList`, which is what `sha256sum` says of that text in a file. */
export const listFingerprint = (list: DrawList): string => sha256Hex(canonicalList(list))

/** What is hashed for a ticket: dice, lot and ticket with a bar between, `4 2 6 1|4TK-7WA|K7Q-2AB/1`. */
export const ticketText = (dice: string, lotCode: string, ticket: string): string =>
  `${normaliseDice(dice)}|${lotCode}|${ticket}`

/** The number of a ticket: SHA-256 of `ticketText`, 64 hexadecimal digits. The lowest stands first. */
export const ticketNumber = (dice: string, lotCode: string, ticket: string): string =>
  sha256Hex(ticketText(dice, lotCode, ticket))

/** The command that prints a ticket's number in a terminal. None of the three may hold a quote (see `diceFaults`). */
export const ticketCommand = (dice: string, lotCode: string, ticket: string): string =>
  `printf '%s' '${ticketText(dice, lotCode, ticket)}' | sha256sum`
