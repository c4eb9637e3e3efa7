import type { BatchRefusal } from '#lib/attempts/record-batch.ts'
import type { AttemptsRefusal } from '#lib/attempts/refusals.ts'
import { formatCode } from '#lib/grafting/codes.ts'
import { ledgerRefusalWords, type RefusalWords } from '#lib/ledger/refusal-words.ts'
import { dayWords } from '#lib/people/day-words.ts'

const pieces = (count: number) => `${count} ${count === 1 ? 'piece' : 'pieces'}`

/** Says in words why an attempt or a look was not recorded. */
export function attemptsRefusalWords(refusal: AttemptsRefusal): RefusalWords {
  switch (refusal.kind) {
    case 'in-future':
      return {
        message: `That day has not come yet: today is ${refusal.today}.`,
        next: ['Enter today or an earlier day.'],
      }
    case 'before-cut':
      return {
        message: `The wood ${formatCode(refusal.code)} was cut on ${refusal.cutOn}, so it cannot have been used before.`,
        next: ['Check the day.', 'Check the code on the stick: it may have been other wood.'],
      }
    case 'not-received':
      return {
        message: `No sticks of ${formatCode(refusal.code)} are recorded as received by this person.`,
        next: [
          'Ask whoever kept the table to record the hand-over, then enter it here.',
          'If the wood was never in the ledger, enter it as own wood.',
        ],
      }
    case 'wood-without-name':
      return {
        message: 'This wood has no variety name yet, so nothing could be learnt from it.',
        next: ['Name the limb on its tree’s page first.'],
      }
    case 'variety-differs':
      return {
        message: `That limb is ‘${refusal.variety}’, not the variety that was chosen beside it.`,
        next: ['Leave the variety empty: the limb says it.', 'Or choose another limb.'],
      }
    case 'withdrawn':
      return {
        message: `This entry was withdrawn: ${refusal.reason}`,
        next: ['Enter the grafts again if they were made after all.'],
      }
    case 'became-limb':
      return {
        message: `A limb of tree ${formatCode(refusal.treeCode)} is recorded as grown from this graft.`,
        next: ['Change where that limb came from first.', 'Or leave this entry and correct its looks.'],
      }
    case 'before-attempt':
      return {
        message: `The grafts were made on ${refusal.madeOn}, so a look cannot be earlier.`,
        next: [
          'Check the day of the look.',
          'If the day of the graft is wrong, withdraw it and enter it again.',
        ],
      }
    case 'does-not-add-up':
      return {
        message: `Alive, dead and not known come to ${refusal.sum}; there were ${pieces(refusal.pieces)}.`,
        next: ['Count those that you cannot tell as not known.'],
      }
    case 'too-many-causes':
      return {
        message: `Causes are named for ${pieces(refusal.named)}, and ${refusal.dead} are dead.`,
        next: ['Name one cause for each, the likeliest.'],
      }
    case 'already-corrected':
      return {
        message: 'This look was corrected before.',
        next: ['Open the page again and correct the newest one.'],
      }
    case 'photo-too-large':
      return {
        message: `The photo is larger than ${refusal.mostMegabytes} MB.`,
        next: ['Send a smaller one, or record the look without it.'],
      }
    case 'not-a-photo':
      return {
        message: 'The file is no photo that we can open: JPEG, PNG or WebP.',
        next: ['Choose another file, or record the look without it.'],
      }
    case 'enough-photos':
      return {
        message: `A look keeps ${refusal.most} photos at most.`,
        next: ['Remove one of them first. The look itself is on record.'],
      }
    case 'link-unknown':
      return {
        message: 'This link is not one that we mailed.',
        next: [
          'Open it from the mail once more: it may have been cut in two.',
          'Or sign in and record the look.',
        ],
      }
    case 'link-is-over':
      return {
        message: `This link answered until ${dayWords(refusal.on)}.`,
        next: ['Sign in and record the look under Grafts.'],
      }
    default:
      return ledgerRefusalWords(refusal)
  }
}

/** Says in words why a morning's work was not recorded. */
export function batchRefusalWords(refusal: BatchRefusal): RefusalWords {
  if (refusal.kind !== 'in-row') return attemptsRefusalWords(refusal)
  const { message, next } = attemptsRefusalWords(refusal.refusal)
  return { message: `Row ${refusal.row}: ${message} Nothing of the morning is saved yet.`, next }
}
