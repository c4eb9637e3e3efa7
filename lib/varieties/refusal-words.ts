import { formatEpithet } from '#lib/grafting/cultivar-name.ts'
import { ledgerRefusalWords, type RefusalWords } from '#lib/ledger/refusal-words.ts'
import { dayWords } from '#lib/people/day-words.ts'
import type { VarietyRefusal } from '#lib/varieties/refusals.ts'

/** Says in words why a variety was not written down. */
export function varietyRefusalWords(refusal: VarietyRefusal): RefusalWords {
  switch (refusal.kind) {
    case 'unknown-taxon':
      return { message: 'There is no such kind of fruit in the list.', next: ['Choose one of the list.'] }
    case 'name-taken':
      return {
        message: `${formatEpithet(refusal.name)} is in the list already, for this kind of fruit.`,
        next: [
          'Look it up in the list; accents, capitals and apostrophes make no difference.',
          'If these are two sorts, add a word that tells them apart.',
        ],
      }
    case 'synonym-there':
      return {
        message: `${formatEpithet(refusal.name)} is among the names of this variety already.`,
        next: ['Enter another name.'],
      }
    case 'checked-ahead':
      return {
        message: `The protection cannot have been checked on a day to come; today is ${dayWords(refusal.today)}.`,
        next: ['Enter the day on which you looked.'],
      }
    case 'protection-stays':
      return {
        message: `A patent or right that was noted is taken away only by ${refusal.roles.join(' or ')}.`,
        next: ['Tell them what you found, and where.', 'Change the rest and leave the protection as it is.'],
      }
    default:
      return ledgerRefusalWords(refusal)
  }
}
