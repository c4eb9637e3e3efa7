import { ledgerRefusalWords, type RefusalWords } from '#lib/ledger/refusal-words.ts'
import type { WoodRefusal } from '#lib/wood/refusals.ts'

const ownWood = 'People move and write off the wood they cut themselves, or that is in a store they keep.'

/** Says in words why something about wood or its stores was refused. */
export function woodRefusalWords(refusal: WoodRefusal): RefusalWords {
  switch (refusal.kind) {
    case 'not-your-wood':
      return {
        message: 'This lot is somebody else’s to move.',
        next: [ownWood, 'Ask whoever cut it, a helper or the organiser.'],
      }
    case 'not-your-store':
      return {
        message: 'This store is somebody else’s.',
        next: ['Ask its keeper, a helper or the organiser.'],
      }
    case 'no-such-member':
      return {
        message: 'This person is not, or no longer, a member of the group.',
        next: ['Choose somebody from the list.', 'Add the person under Members first.'],
      }
    case 'day-to-come':
      return {
        message: 'That day has not come yet, and the ledger holds only what has happened.',
        next: ['Enter today or a day before it.'],
      }
    case 'before-it-came':
      return {
        message: `The lot came to where it is now on ${refusal.cameOn}; it cannot have left before that.`,
        next: ['Enter that day or a later one.', 'Look at where it has been kept on the lot’s page.'],
      }
    case 'already-there':
      return { message: `The lot is in ${refusal.store} already.`, next: ['Choose another store.'] }
    case 'store-closed':
      return {
        message: `${refusal.store} is closed, so nothing is put there.`,
        next: ['Choose another store.', 'Open it again on its page.'],
      }
    case 'name-taken':
      return {
        message: `The group has a store called “${refusal.name}” already.`,
        next: ['Give this one another name, such as the shelf or the person.', 'Use the one that is there.'],
      }
    case 'store-holds-wood':
      return {
        message: `${refusal.lots === 1 ? 'One lot is' : `${refusal.lots} lots are`} still in this store.`,
        next: ['Move the wood to another store first, then close this one.'],
      }
    case 'read-already':
      return {
        message: 'A reading of this store at this moment is recorded already.',
        next: ['Enter another time of day, or leave it.'],
      }
    default:
      return cuttingRefusalWords(refusal)
  }
}

type CuttingRefusal = Extract<
  WoodRefusal,
  {
    kind:
      | 'no-such-limb'
      | 'limb-gone'
      | 'limb-held'
      | 'no-such-store'
      | 'corrected-elsewhere'
      | 'is-a-correction'
  }
>
type OtherRefusal = Parameters<typeof ledgerRefusalWords>[0]

function cuttingRefusalWords(refusal: CuttingRefusal | OtherRefusal): RefusalWords {
  switch (refusal.kind) {
    case 'no-such-limb':
      return {
        message: `Lot ${refusal.lot}: this limb is not in the group’s list.`,
        next: ['Choose a limb from the list.', 'Add the tree first, under Trees.'],
      }
    case 'limb-gone':
      return {
        message: `Lot ${refusal.lot}: ${refusal.limb} is recorded as gone, so it gives no wood.`,
        next: ['Choose the limb that the wood was cut from.', 'Correct the tree’s page if it still stands.'],
      }
    case 'limb-held':
      return {
        message: `Lot ${refusal.lot}: ${refusal.limb} is on hold (${refusal.reason.replace(/[.\s]+$/, '')}). No wood is taken from it until the hold is released.`,
        next: [
          'Leave this lot out and save the others.',
          'Keep the sticks apart, sealed, and tell the health steward.',
        ],
      }
    case 'no-such-store':
      return {
        message: `Lot ${refusal.lot}: this store is not open, or not in the group’s list.`,
        next: ['Choose a store from the list.', 'Add the store first, under Stores.'],
      }
    case 'corrected-elsewhere':
      return refusal.where === 'claim'
        ? {
            message: 'This entry belongs to a claim, and is corrected through it so that both still agree.',
            next: ['Give the claim back, or undo the hand-over, on the swap’s page.'],
          }
        : {
            message: 'This entry belongs to a graft or a batch of cuttings, and is corrected there.',
            next: ['Withdraw the entry on the page of the graft.'],
          }
    case 'is-a-correction':
      return {
        message: 'This entry is itself a correction, and stays as it is.',
        next: ['Record the sticks again as they are now.'],
      }
    default:
      return ledgerRefusalWords(refusal)
  }
}
