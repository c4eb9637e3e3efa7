import { healthRefusalWords } from '#lib/health/refusal-words.ts'
import type { HealthRefusal } from '#lib/health/refusals.ts'
import type { CivilDate } from '#lib/kernel/civil-date.ts'
import type { RefusalWords } from '#lib/ledger/refusal-words.ts'
import { woodRefusalWords } from '#lib/wood/refusal-words.ts'
import type { WoodRefusal } from '#lib/wood/refusals.ts'

type Shared = Extract<WoodRefusal, { readonly kind: 'not-your-wood' | 'day-to-come' | 'no-such-member' }>

/** Why a look at a lot was not recorded. */
export type InspectionRefusal =
  | HealthRefusal
  | Shared
  | { readonly kind: 'not-yourself' }
  | { readonly kind: 'before-the-cut'; readonly cutOn: CivilDate }
  | { readonly kind: 'nothing-to-destroy'; readonly promised: number }
  | { readonly kind: 'already-corrected' }

/** Says in words why a look was not recorded. */
export function inspectionRefusalWords(refusal: InspectionRefusal): RefusalWords {
  switch (refusal.kind) {
    case 'not-your-wood':
    case 'day-to-come':
    case 'no-such-member':
      return woodRefusalWords(refusal)
    case 'not-yourself':
      return {
        message: 'Your role lets you record only what you saw yourself.',
        next: ['Leave yourself as the one who looked.', 'Ask a helper to record it.'],
      }
    case 'before-the-cut':
      return {
        message: `This wood was cut on ${refusal.cutOn}; it cannot have been looked at in store before that.`,
        next: ['Enter that day or a later one.'],
      }
    case 'nothing-to-destroy':
      return {
        message:
          refusal.promised === 0
            ? 'No sticks are left in the store to destroy.'
            : `No free sticks are left: ${refusal.promised} are claimed, and claimed sticks are not destroyed over people’s heads.`,
        next: [
          'Save the look with “Keep it” or “Put it on hold”.',
          'Give the claims back first, then destroy the sticks.',
        ],
      }
    case 'already-corrected':
      return {
        message: 'This look was corrected already.',
        next: ['Correct the one that stands in for it, on the lot’s page.'],
      }
    default:
      return healthRefusalWords(refusal)
  }
}
