import type { FactBasis } from '#lib/grafting/methods.ts'

/** What advice leans on, said beside it. */
export const basisWords = (basis: FactBasis): string =>
  typeof basis === 'string' ? 'Common practice, no source.' : `Source: ${basis.source}.`
