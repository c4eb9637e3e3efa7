import { ledgerRefusalWords, type RefusalWords } from '#lib/ledger/refusal-words.ts'
import { dayWords } from '#lib/people/day-words.ts'
import type { PledgesRefusal } from '#lib/pledges/refusals.ts'
import { pledgeStateWords } from '#lib/pledges/words.ts'

/** Says in words why a request or promise of wood was refused, and what can be done next. */
export function pledgesRefusalWords(refusal: PledgesRefusal): RefusalWords {
  switch (refusal.kind) {
    case 'swap-finished':
      return { message: 'This swap is finished.', next: ['Promise the wood for the next one.'] }
    case 'limb-gone':
      return { message: 'This limb is no longer there.', next: ['Choose another limb of the variety.'] }
    case 'asked-already':
      return {
        message: `Wood of this limb is asked for or promised already${refusal.sticks > 0 ? `: ${refusal.sticks} sticks` : ''}.`,
        next: ['Change that promise.', 'Choose another limb of the variety.'],
      }
    case 'bring-by-after-the-swap':
      return {
        message: `The swap is held on ${dayWords(refusal.heldOn)}, before that day.`,
        next: ['Choose that day or an earlier one.'],
      }
    case 'keeper-has-left':
      return {
        message: `${refusal.keeper}, who keeps this tree, has left the group.`,
        next: ['Give the tree another keeper first.'],
      }
    case 'not-yours':
      return {
        message: `Only ${refusal.keeper}, who keeps the tree, or a helper can answer for it.`,
        next: [`Ask ${refusal.keeper}, or a helper of the group.`],
      }
    case 'settled':
      return {
        message: `This is closed: ${pledgeStateWords(refusal.status).toLowerCase()}.`,
        next: ['Promise the wood anew.'],
      }
    case 'not-promised':
      return {
        message: 'Nothing was promised here, so nothing can have come of it.',
        next: ['Write the promise down first, then what came.'],
      }
    default:
      return ledgerRefusalWords(refusal)
  }
}
