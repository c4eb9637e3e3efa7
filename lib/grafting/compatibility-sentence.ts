import { type Compatibility, ratingWords } from '#lib/grafting/compatibility.ts'

/** What is known of a scion on a stock, in a sentence or three: "Scion and stock: usually go together." */
export function compatibilitySentence({ rating, note, failsLater }: Compatibility): string {
  const parts = [
    `Scion and stock: ${ratingWords[rating]}.`,
    note && `${note.replace(/[.\s]+$/, '')}.`,
    failsLater && 'Unions that held for years have failed later.',
  ]
  return parts.filter(Boolean).join(' ')
}
