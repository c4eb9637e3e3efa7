import type { PledgeState } from '#lib/pledges/view.ts'

const words: Readonly<Record<PledgeState, string>> = {
  asked: 'Asked, no answer yet',
  promised: 'Promised',
  declined: 'Not this year',
  delivered: 'Brought',
  short: 'Brought fewer',
  not_come: 'Did not come',
  withdrawn: 'No longer needed',
}

/** How a request or promise stands, in words. */
export const pledgeStateWords = (state: PledgeState): string => words[state]
