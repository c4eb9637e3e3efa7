'use server'

import { memberAction } from '#app/_actions/member-action.ts'
import { type FormPlace, swapAction } from '#app/g/[group]/swaps/_parts/swap-action.ts'
import { swapHref } from '#app/g/[group]/swaps/_parts/swap-links.ts'
import { ok } from '#lib/kernel/result.ts'
import { acceptOffer, leaveWaitingList } from '#lib/swaps/answer-offer.ts'
import { changeClaim } from '#lib/swaps/change-claim.ts'
import { changeOffering } from '#lib/swaps/change-offering.ts'
import { claimOffering } from '#lib/swaps/claim-offering.ts'
import { createSwap } from '#lib/swaps/create-swap.ts'
import { editSwap } from '#lib/swaps/edit-swap.ts'
import { finishSwap } from '#lib/swaps/finish-swap.ts'
import { giveBackClaim } from '#lib/swaps/give-back-claim.ts'
import { handOver } from '#lib/swaps/hand-over.ts'
import {
  AnswerOfferInput,
  ChangeClaimInput,
  ChangeOfferingInput,
  ClaimOfferingInput,
  CreateSwapInput,
  EditSwapInput,
  FinishSwapInput,
  GiveBackClaimInput,
  HandOverInput,
  OfferLotsInput,
  OpenSwapInput,
  RecordWalkUpInput,
  ReleaseNoShowsInput,
  UndoHandOverInput,
  UndoWalkUpInput,
  WithdrawOfferingInput,
} from '#lib/swaps/input.ts'
import { joinWaitingList } from '#lib/swaps/join-waiting-list.ts'
import { offerLots } from '#lib/swaps/offer-lots.ts'
import { openSwap } from '#lib/swaps/open-swap.ts'
import { recordWalkUp } from '#lib/swaps/record-walk-up.ts'
import { swapsRefusalWords } from '#lib/swaps/refusal-words.ts'
import { releaseNoShows } from '#lib/swaps/release-no-shows.ts'
import { undoHandOver } from '#lib/swaps/undo-hand-over.ts'
import { undoWalkUp } from '#lib/swaps/undo-walk-up.ts'
import { withdrawOffering } from '#lib/swaps/withdraw-offering.ts'

const refusal = swapsRefusalWords

export const createSwapAction = memberAction({
  input: CreateSwapInput,
  command: createSwap,
  refusal,
  done: ({ swapId }, { slug }) => ({ to: `${swapHref(slug, swapId, 'offer')}?done=planned` }),
})

export const editSwapAction = memberAction({
  input: EditSwapInput,
  command: editSwap,
  refusal,
  done: ({ swapId }, { slug }) => ({ to: `${swapHref(slug, swapId)}?done=saved` }),
})

export const openSwapAction = memberAction({
  input: OpenSwapInput,
  command: openSwap,
  refusal,
  done: ({ swapId }, { slug }) => ({ to: `${swapHref(slug, swapId)}?done=opened` }),
})

export const finishSwapAction = swapAction({
  input: FinishSwapInput,
  command: finishSwap,
  to: (slug, { swap }) => `${swapHref(slug, swap)}?done=finished`,
})

export const offerLotsAction = swapAction({
  input: OfferLotsInput,
  command: offerLots,
  to: (slug, { swap }) => `${swapHref(slug, swap, 'offer')}?done=offered`,
})

export const changeOfferingAction = swapAction({
  input: ChangeOfferingInput,
  command: changeOffering,
  to: (slug, { swap }) => `${swapHref(slug, swap, 'offer')}?done=changed`,
})

export const withdrawOfferingAction = swapAction({
  input: WithdrawOfferingInput,
  command: withdrawOffering,
  to: (slug, { swap }) => `${swapHref(slug, swap, 'offer')}?done=withdrawn`,
})

/** The list of the person the claim is for: one's own, or that of the person in the form. */
const listOf = (slug: string, { swap, member }: FormPlace, done: string) =>
  `${swapHref(slug, swap, 'yours')}?done=${done}${member === undefined ? '' : `&member=${member}`}`

export const claimAction = swapAction({
  input: ClaimOfferingInput,
  command: async (db, actor, input) => {
    const claim = await claimOffering(db, actor, input)
    const memberId = input.memberId === actor.memberId ? undefined : input.memberId
    return claim.ok ? ok({ claimId: claim.value.claimId, memberId }) : claim
  },
  to: (slug, { swap }, { claimId, memberId }) =>
    memberId === undefined
      ? `${swapHref(slug, swap)}?claimed=${claimId}`
      : listOf(slug, { swap, member: memberId }, 'claimed'),
})

export const giveBackAction = swapAction({
  input: GiveBackClaimInput,
  command: giveBackClaim,
  to: (slug, place) => listOf(slug, place, 'given-back'),
})

export const changeClaimAction = swapAction({
  input: ChangeClaimInput,
  command: changeClaim,
  to: (slug, place) => listOf(slug, place, 'changed'),
})

export const joinWaitingListAction = swapAction({
  input: ClaimOfferingInput,
  command: async (db, actor, input) => {
    const joined = await joinWaitingList(db, actor, input)
    const { memberId } = input
    return joined.ok ? ok({ memberId: memberId === actor.memberId ? undefined : memberId }) : joined
  },
  to: (slug, { swap }, { memberId }) => listOf(slug, { swap, member: memberId }, 'waiting'),
})

export const acceptOfferAction = swapAction({
  input: AnswerOfferInput,
  command: acceptOffer,
  to: (slug, place) => listOf(slug, place, 'accepted'),
})

export const leaveWaitingListAction = swapAction({
  input: AnswerOfferInput,
  command: leaveWaitingList,
  to: (slug, place, { wasOffered }) => listOf(slug, place, wasOffered ? 'declined' : 'left'),
})

export const releaseNoShowsAction = swapAction({
  input: ReleaseNoShowsInput,
  command: releaseNoShows,
  to: (slug, { swap }) => `${swapHref(slug, swap)}?done=released`,
})

/** Back to the page of the person at the table. */
const doorOf = (slug: string, { swap, member }: FormPlace) =>
  swapHref(slug, swap, member === undefined ? 'hand-over' : `hand-over/${member}`)

export const handOverAction = swapAction({ input: HandOverInput, command: handOver, to: doorOf })

export const notOnTableAction = swapAction({ input: GiveBackClaimInput, command: giveBackClaim, to: doorOf })

export const undoHandOverAction = swapAction({ input: UndoHandOverInput, command: undoHandOver, to: doorOf })

export const recordWalkUpAction = swapAction({
  input: RecordWalkUpInput,
  command: recordWalkUp,
  to: (slug, { swap }) => `${swapHref(slug, swap, 'hand-over/walk-up')}?done=recorded`,
})

export const undoWalkUpAction = swapAction({
  input: UndoWalkUpInput,
  command: undoWalkUp,
  to: (slug, { swap }) => `${swapHref(slug, swap, 'hand-over/walk-up')}?done=undone`,
})
