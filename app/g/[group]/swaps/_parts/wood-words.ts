import { labelDay } from '#app/_ui/dates.ts'
import type { CatalogueRow } from '#lib/swaps/view.ts'

const namedBy: Readonly<Record<CatalogueRow['identity'], string>> = {
  dna: 'Name confirmed by DNA',
  expert: 'Named by an expert',
  fruited_true: 'Fruited true',
  nursery_tag: 'Named from a nursery tag',
  donor_word: 'Named on the donor’s word',
  unknown: 'Nobody knows how it was named',
}

/** How the name is known, with a doubt where there is one. */
export const nameInWords = ({ identity, nameCertainty }: CatalogueRow): string =>
  nameCertainty === 'disputed' ? `${namedBy[identity]}, name disputed` : namedBy[identity]

/** What was seen of the limb's health. Never a promise. */
export function healthInWords({ seenInLeafOn, healthNote }: CatalogueRow): string {
  const seen = seenInLeafOn === null ? 'not seen in leaf' : `seen in leaf ${labelDay(seenInLeafOn)}`
  return healthNote === null ? seen : `${seen}: ${healthNote}`
}
