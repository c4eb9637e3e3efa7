import { formatCode } from '#lib/grafting/codes.ts'
import { formatEpithet } from '#lib/grafting/cultivar-name.ts'
import { assertNever } from '#lib/kernel/assert.ts'
import { ledgerRefusalWords, type RefusalWords } from '#lib/ledger/refusal-words.ts'
import type { LotRefusal, SwapsRefusal } from '#lib/swaps/refusals.ts'

const counted = (count: number, one: string) => `${count} ${count === 1 ? one : `${one}s`}`

/** Says in words why a command of a swap was refused, and what can be done next. */
export function swapsRefusalWords(refusal: SwapsRefusal): RefusalWords {
  switch (refusal.kind) {
    case 'swap-finished':
      return {
        message: 'This swap is finished.',
        next: ['The organiser can open it again on its settings page.'],
      }
    case 'swap-already-open':
      return { message: 'This swap is open already.', next: ['Open the page again to see how it stands.'] }
    case 'claims-standing':
      return {
        message: `${counted(refusal.claims, 'claim')} still stand${refusal.claims === 1 ? 's' : ''}: ${counted(refusal.sticks, 'stick')} promised and not handed over.`,
        next: ['Hand them over, or give the claims back.', 'Then do this again.'],
      }
    case 'fewer-than-claimed':
      return {
        message: `${counted(refusal.claimed, 'share')} of this lot ${refusal.claimed === 1 ? 'is' : 'are'} claimed, or kept for the waiting list.`,
        next: [`Enter ${refusal.claimed} or more.`, 'Give claims back first.'],
      }
    case 'override-not-yours':
      return {
        message: 'Only a steward or an organiser may offer wood that may be protected.',
        next: ['Leave the reason empty and offer the other lots.', 'Ask a steward.'],
      }
    case 'lots-unfit':
      return {
        message: `${counted(refusal.lots.length, 'lot')} cannot be offered, so none was. ${refusal.lots.map(lotWords).join(' ')}`,
        next: [
          refusal.lots.length === 1
            ? 'Change its entries, or untick it.'
            : 'Change their entries, or untick them and offer the others.',
          ...nextForLots(refusal.lots),
        ],
      }
    case 'not-enough-shares':
      return refusal.left === 0
        ? ledgerRefusalWords(refusal)
        : {
            message: `Only ${refusal.left} of this lot ${refusal.left === 1 ? 'is' : 'are'} left to claim.`,
            next: [`Claim ${refusal.left === 1 ? '1' : `${refusal.left} or fewer`}.`, otherLots],
          }
    case 'cap-per-member':
      return capWords(refusal, `${counted(refusal.cap, 'share')} in this swap`)
    case 'cap-per-variety':
      return capWords(refusal, `${counted(refusal.cap, 'share')} of one variety`)
    case 'not-allowed':
    case 'not-enough-sticks':
    case 'claims-not-open':
    case 'held':
    case 'protected':
    case 'not-shared-here':
    case 'unnamed-wood':
    case 'key-reused':
    case 'already-claimed':
    case 'wrong-state':
    case 'not-found':
    case 'circular-lineage':
    case 'no-shows-not-due':
    case 'place-is-gone':
    case 'already-waiting':
    case 'shares-are-free':
    case 'already-reversed':
      return ledgerRefusalWords(refusal)
    default:
      return assertNever(refusal)
  }
}

const otherLots = 'Look for another lot of the same variety.'

/** A limit, whoever the claim is for, and what still fits within it. */
function capWords(
  { cap, held }: { readonly cap: number; readonly held: number },
  limit: string,
): RefusalWords {
  const fits = cap - held
  return {
    message: `The limit is ${limit} for one member, and ${held} ${held === 1 ? 'is' : 'are'} held already.`,
    next: [
      ...(fits > 0 ? [`Claim ${fits === 1 ? '1' : `${fits} or fewer`}.`] : []),
      'Give something back first, then claim this.',
    ],
  }
}

function lotWords({ code, varietyName, refusal }: LotRefusal): string {
  const named = varietyName === null ? formatCode(code) : `${formatCode(code)} ${formatEpithet(varietyName)}`
  switch (refusal.kind) {
    case 'already-offered':
      return `${named}: it is in this swap already.`
    case 'not-enough-sticks':
      return `${named}: only ${counted(refusal.left, 'stick')} in its store.`
    default:
      return `${named}: ${ledgerRefusalWords(refusal).message}`
  }
}

/** The next steps of the refused lots, each said once. */
const nextForLots = (lots: readonly LotRefusal[]): string[] => [
  ...new Set(
    lots.flatMap(({ refusal }) =>
      refusal.kind === 'already-offered' || refusal.kind === 'not-enough-sticks'
        ? []
        : ledgerRefusalWords(refusal).next,
    ),
  ),
]
