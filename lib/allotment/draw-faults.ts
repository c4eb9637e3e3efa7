import type { DrawEntrant, DrawList, DrawOffering } from '#lib/allotment/draw-list.ts'
import { assertNever } from '#lib/kernel/assert.ts'

/** Why a list cannot be drawn from, or dice cannot be used. */
export type DrawFault =
  | { readonly kind: 'dice-empty' }
  | { readonly kind: 'dice-too-long'; readonly longest: number }
  | { readonly kind: 'dice-character'; readonly characters: readonly string[] }
  | { readonly kind: 'bad-code'; readonly of: 'lot' | 'member' | 'variety'; readonly code: string }
  | { readonly kind: 'lot-twice'; readonly lotCode: string }
  | { readonly kind: 'member-twice'; readonly memberCode: string }
  | { readonly kind: 'wish-twice'; readonly memberCode: string; readonly lotCode: string }
  | { readonly kind: 'wish-unknown'; readonly memberCode: string; readonly lotCode: string }
  | { readonly kind: 'bad-number'; readonly what: string; readonly value: number; readonly least: number }
  | { readonly kind: 'reserves-too-large'; readonly lotCode: string; readonly shares: number }

const code = /^[0-9A-Za-z]+(?:-[0-9A-Za-z]+)*$/
/** Printable ASCII without the bar, which parts the three pieces of a ticket, and the quote and backslash. */
const diceCharacter = /^[ -&(-[\]-{}~]$/
const longestDice = 200

/** Dice as they are used: no space before or after, and single spaces between. */
export const normaliseDice = (text: string): string => text.trim().replace(/\s+/g, ' ')

/** What is wrong with dice (or another public number) as typed; empty when nothing is. */
export function diceFaults(text: string): readonly DrawFault[] {
  const dice = normaliseDice(text)
  if (dice === '') return [{ kind: 'dice-empty' }]
  if (dice.length > longestDice) return [{ kind: 'dice-too-long', longest: longestDice }]
  const characters = [...new Set([...dice].filter((character) => !diceCharacter.test(character)))]
  return characters.length === 0 ? [] : [{ kind: 'dice-character', characters }]
}

const codeFaults = (of: 'lot' | 'member' | 'variety', text: string): readonly DrawFault[] =>
  code.test(text) ? [] : [{ kind: 'bad-code', of, code: text }]

const numberFaults = (what: string, value: number, least: number): readonly DrawFault[] =>
  Number.isSafeInteger(value) && value >= least ? [] : [{ kind: 'bad-number', what, value, least }]

const twice = (texts: readonly string[]): readonly string[] => [
  ...new Set(texts.filter((text, i) => texts.indexOf(text) !== i)),
]

function offeringFaults(offering: DrawOffering): readonly DrawFault[] {
  const { lotCode, variety, shares, sticksPerShare, newcomerShares = 0, donorShares = 0 } = offering
  const faults = [
    ...codeFaults('lot', lotCode),
    ...codeFaults('variety', variety),
    ...numberFaults(`shares of ${lotCode}`, shares, 1),
    ...numberFaults(`sticks per share of ${lotCode}`, sticksPerShare, 1),
    ...numberFaults(`shares of ${lotCode} for newcomers`, newcomerShares, 0),
    ...numberFaults(`shares of ${lotCode} for donors`, donorShares, 0),
  ]
  return newcomerShares + donorShares > shares
    ? [...faults, { kind: 'reserves-too-large', lotCode, shares }]
    : faults
}

function entrantFaults(entrant: DrawEntrant, lots: ReadonlySet<string>): readonly DrawFault[] {
  const { memberCode, wishes, held = [] } = entrant
  return [
    ...codeFaults('member', memberCode),
    ...twice(wishes).map((lotCode) => ({ kind: 'wish-twice', memberCode, lotCode }) as const),
    ...wishes
      .filter((lotCode) => !lots.has(lotCode))
      .map((lotCode) => ({ kind: 'wish-unknown', memberCode, lotCode }) as const),
    ...held.flatMap(({ variety, shares }) => [
      ...codeFaults('variety', variety),
      ...numberFaults(`shares that ${memberCode} holds of ${variety}`, shares, 0),
    ]),
  ]
}

/** Everything that keeps a list from being drawn from; empty when it can be. */
export function listFaults({ offerings, entrants, rules }: DrawList): readonly DrawFault[] {
  const lotCodes = offerings.map(({ lotCode }) => lotCode)
  const lots = new Set(lotCodes)
  return [
    ...numberFaults('shares per person', rules.capPerMember, 1),
    ...numberFaults('shares per person and variety', rules.capPerVariety, 1),
    ...numberFaults('tickets per donor', rules.ticketsPerDonor, 1),
    ...twice(lotCodes).map((lotCode) => ({ kind: 'lot-twice', lotCode }) as const),
    ...twice(entrants.map(({ memberCode }) => memberCode)).map(
      (memberCode) => ({ kind: 'member-twice', memberCode }) as const,
    ),
    ...offerings.flatMap(offeringFaults),
    ...entrants.flatMap((entrant) => entrantFaults(entrant, lots)),
  ]
}

/** A fault in words, with what would mend it. */
export function describeDrawFault(fault: DrawFault): string {
  switch (fault.kind) {
    case 'dice-empty':
      return 'No dice were typed in. Throw them where everybody can see, and type what they show.'
    case 'dice-too-long':
      return `That is longer than ${fault.longest} characters. Use a shorter public number.`
    case 'dice-character':
      return `${fault.characters.join(' ')} cannot be part of the dice. Use plain letters, digits, spaces and commas.`
    case 'bad-code':
      return `“${fault.code}” is no code of a ${fault.of}. Codes are letters and digits, with single hyphens between.`
    case 'lot-twice':
      return `The lot ${fault.lotCode} is on the list twice. Take one of the two off.`
    case 'member-twice':
      return `${fault.memberCode} is on the list twice. Take one of the two off.`
    case 'wish-twice':
      return `${fault.memberCode} wishes for ${fault.lotCode} twice. Keep the higher of the two.`
    case 'wish-unknown':
      return `${fault.memberCode} wishes for ${fault.lotCode}, which is not on the list. Add the lot or drop the wish.`
    case 'bad-number':
      return `The number of ${fault.what} is ${fault.value}. It must be a whole number, ${fault.least} or more.`
    case 'reserves-too-large':
      return `More shares of ${fault.lotCode} are kept back than the ${fault.shares} there are. Keep fewer back.`
    default:
      return assertNever(fault)
  }
}
