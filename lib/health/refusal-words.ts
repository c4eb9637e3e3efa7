import type { HealthRefusal } from '#lib/health/refusals.ts'
import { ledgerRefusalWords, type RefusalWords } from '#lib/ledger/refusal-words.ts'

/** Says in words why a hold was not placed or released. */
export function healthRefusalWords(refusal: HealthRefusal): RefusalWords {
  switch (refusal.kind) {
    case 'held-already':
      return {
        message: `This wood is on hold already: ${refusal.reason.replace(/[.\s]+$/, '')}.`,
        next: [
          'Open the hold to see what it stops.',
          'To note something new, release it with a reason and place another.',
        ],
      }
    case 'released-already':
      return {
        message: `This hold was released before, by ${refusal.releasedBy}.`,
        next: ['Open the page again to see how it stands.', 'Place a new hold if there is a new reason.'],
      }
    default:
      return ledgerRefusalWords(refusal)
  }
}
