import type { WishPurpose } from '#lib/wishes/input.ts'

const words: Readonly<Record<WishPurpose, string>> = {
  graft: 'To graft',
  root: 'To root as cuttings',
  rootstock: 'To raise rootstocks',
  undecided: 'Not decided',
}

/** What a wish is for. */
export const purposeWords = (purpose: WishPurpose): string => words[purpose]
