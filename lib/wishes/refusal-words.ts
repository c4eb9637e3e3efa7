import { ledgerRefusalWords, type RefusalWords } from '#lib/ledger/refusal-words.ts'
import type { WishesRefusal } from '#lib/wishes/refusals.ts'

/** Says in words why a wish was not written down, and what can be done next. */
export function wishesRefusalWords(refusal: WishesRefusal): RefusalWords {
  switch (refusal.kind) {
    case 'swap-finished':
      return {
        message: 'This swap is finished, and wishes for it are closed.',
        next: ['Write the wish down for the next swap.'],
      }
    case 'wished-already':
      return {
        message: `This variety is in the list already, in place ${refusal.rank}.`,
        next: ['Move it up or down.', 'To ask for another number of sticks, remove it and add it again.'],
      }
    case 'too-many-wishes':
      return {
        message: `A list has at most ${refusal.most} wishes.`,
        next: ['Remove one that matters less.'],
      }
    default:
      return ledgerRefusalWords(refusal)
  }
}
