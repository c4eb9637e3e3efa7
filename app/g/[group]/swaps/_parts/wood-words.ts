import { labelDay } from '#app/_ui/dates.ts'
import type { CatalogueRow } from '#lib/swaps/view.ts'
import { identityWords } from '#lib/trees/identity.ts'

const capital = (words: string) => words.charAt(0).toUpperCase() + words.slice(1)

/** How the name is known: "Fruited true", with a doubt where there is one. */
export function nameInWords({ identity, nameCertainty }: CatalogueRow): string {
  const known = identity === 'unknown' ? 'Nobody knows how it was named' : capital(identityWords[identity])
  return nameCertainty === 'disputed' ? `${known}, name disputed` : known
}

/** What was seen of the limb's health. Never a promise. */
export function healthInWords({ seenInLeafOn, healthNote }: CatalogueRow): string {
  const seen = seenInLeafOn === null ? 'not seen in leaf' : `seen in leaf ${labelDay(seenInLeafOn)}`
  return healthNote === null ? seen : `${seen}: ${healthNote}`
}
