import { formatEpithet } from '#lib/grafting/cultivar-name.ts'
import { ledgerRefusalWords, type RefusalWords } from '#lib/ledger/refusal-words.ts'
import { dayWords } from '#lib/people/day-words.ts'
import type { TreeRefusal } from '#lib/trees/refusals.ts'

/** Says in words why something about a tree was not written down. */
export function treeRefusalWords(refusal: TreeRefusal): RefusalWords {
  switch (refusal.kind) {
    case 'not-your-tree':
      return {
        message: `${refusal.keeper} looks after this tree.`,
        next: [`Tell ${refusal.keeper} what should change.`, 'Or ask the organiser or the health steward.'],
      }
    case 'unknown-keeper':
      return {
        message: 'The person who is to look after the tree is not in this group, or has left it.',
        next: ['Choose somebody of the list.', 'Add the person under Members first; no account is needed.'],
      }
    case 'unknown-variety':
      return {
        message: 'This variety is not in the group’s list.',
        next: ['Choose one of the list, or add it under Varieties first.', 'Leave it empty if nobody knows.'],
      }
    case 'mark-taken':
      return {
        message: `Another limb of this tree is ${refusal.mark} already, or was before it went.`,
        next: ['Choose the next free letter.'],
      }
    case 'day-ahead':
      return {
        message: `The day it was ${refusal.what} is still to come; today is ${dayWords(refusal.today)}.`,
        next: ['Enter today or a day before.', 'Leave it empty if nobody knows.'],
      }
    case 'tree-gone':
      return {
        message: `This tree has been gone since ${dayWords(refusal.goneOn)}.`,
        next: [
          'Choose another tree.',
          'If that was a mistake, record on the tree’s page that it is still here.',
        ],
      }
    case 'is-gone':
      return {
        message: `This was recorded as gone on ${dayWords(refusal.goneOn)} already.`,
        next: ['Open the page again to see how it stands.'],
      }
    case 'still-here':
      return {
        message: 'This is recorded as still here.',
        next: ['Open the page again to see how it stands.'],
      }
    default:
      return lineageRefusalWords(refusal)
  }
}

type Rest = Exclude<
  TreeRefusal,
  {
    kind:
      | 'not-your-tree'
      | 'unknown-keeper'
      | 'unknown-variety'
      | 'mark-taken'
      | 'day-ahead'
      | 'tree-gone'
      | 'is-gone'
      | 'still-here'
  }
>

function lineageRefusalWords(refusal: Rest): RefusalWords {
  switch (refusal.kind) {
    case 'gone-before-planting':
      return {
        message: `The tree was planted on ${dayWords(refusal.plantedOn)} and cannot have gone before.`,
        next: ['Enter a later day, or correct the planting day first.'],
      }
    case 'unknown-attempt':
      return {
        message: 'This graft or cutting is not recorded here, or was withdrawn.',
        next: ['Choose another.', 'Leave it empty if the wood came from elsewhere.'],
      }
    case 'other-variety':
      return {
        message: `The wood of this graft was ${formatEpithet(refusal.variety)}.`,
        next: [
          `Choose ${formatEpithet(refusal.variety)}, or another graft.`,
          'If the wood was misnamed, correct the name on the limb it was cut from.',
        ],
      }
    case 'origin-is-recorded':
      return {
        message: 'A recorded graft or cutting became this limb, so where it came from is known.',
        next: ['Choose grafted, or the tree’s own for a rooted cutting.'],
      }
    default:
      return ledgerRefusalWords(refusal)
  }
}
