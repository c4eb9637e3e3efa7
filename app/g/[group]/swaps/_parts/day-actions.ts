'use server'

import { swapAction } from '#app/g/[group]/swaps/_parts/swap-action.ts'
import { swapHref } from '#app/g/[group]/swaps/_parts/swap-links.ts'
import { checkIn, undoCheckIn } from '#lib/swaps/check-in.ts'
import { CheckInInput, HandOverAllInput } from '#lib/swaps/day-input.ts'
import { handOverAll } from '#lib/swaps/hand-over-all.ts'

/** To the person who has just come: what waits for them is the next thing. */
export const checkInAction = swapAction({
  input: CheckInInput,
  command: checkIn,
  to: (slug, { swap }, { memberId }) => swapHref(slug, swap, `hand-over/${memberId}`),
})

export const undoCheckInAction = swapAction({
  input: CheckInInput,
  command: undoCheckIn,
  to: (slug, { swap }, { memberId }) => swapHref(slug, swap, `hand-over/${memberId}`),
})

export const handOverAllAction = swapAction({
  input: HandOverAllInput,
  command: handOverAll,
  to: (slug, { swap, member }) =>
    swapHref(slug, swap, member === undefined ? 'hand-over' : `hand-over/${member}`),
})
