import type { CareRefusal } from '#lib/care/refusals.ts'
import { ledgerRefusalWords, type RefusalWords } from '#lib/ledger/refusal-words.ts'

/** Says in words why an answer to a task of care was not recorded. */
export function careRefusalWords(refusal: CareRefusal): RefusalWords {
  switch (refusal.kind) {
    case 'withdrawn':
      return {
        message: `This entry was withdrawn: ${refusal.reason}`,
        next: ['Nothing has to be done for it.'],
      }
    case 'nothing-alive':
      return {
        message: 'Nothing of this batch is alive, so it asks for no care.',
        next: ['If that is wrong, correct the look that says so.'],
      }
    case 'no-such-task':
      return {
        message: 'This batch does not ask for that.',
        next: ['Open its page again: the list may have changed.'],
      }
    case 'until-is-past':
      return { message: 'That day is not to come any more.', next: ['Choose a day after today.'] }
    default:
      return ledgerRefusalWords(refusal)
  }
}
