import type { IdentityBasis, LimbOrigin } from '#lib/platform/generated/enums.ts'

/** How the name of a limb is known, the surest first. */
export const identityGrades = [
  'dna',
  'expert',
  'fruited_true',
  'nursery_tag',
  'donor_word',
  'unknown',
] as const satisfies readonly IdentityBasis[]

/** The grade in a few words, for a list. */
export const identityWords: Readonly<Record<IdentityBasis, string>> = {
  dna: 'DNA test',
  expert: 'named by an expert',
  fruited_true: 'fruited true',
  nursery_tag: 'nursery tag',
  donor_word: 'the donor’s word',
  unknown: 'basis not known',
}

/** What the grade leans on, for choosing one. */
export const identityMeanings: Readonly<Record<IdentityBasis, string>> = {
  dna: 'A laboratory compared it with a reference.',
  expert: 'Somebody who knows the sort saw its fruit.',
  fruited_true: 'It has borne the fruit that its name promises.',
  nursery_tag: 'It came with a label and has not fruited yet.',
  donor_word: 'Whoever gave the wood said so.',
  unknown: 'No label, no fruit, no record.',
}

export const originWords: Readonly<Record<LimbOrigin, string>> = {
  own: 'the tree’s own',
  grafted: 'grafted on',
  unknown: 'not known',
}
