'use server'

import { memberAction } from '#app/_actions/member-action.ts'
import { PlaceHoldInput, ReleaseHoldInput } from '#lib/health/input.ts'
import { placeHold } from '#lib/health/place-hold.ts'
import { healthRefusalWords } from '#lib/health/refusal-words.ts'
import { releaseHold } from '#lib/health/release-hold.ts'

export const placeHoldAction = memberAction({
  input: PlaceHoldInput,
  command: placeHold,
  refusal: healthRefusalWords,
  done: ({ holdId }, { slug }) => ({ to: `/g/${slug}/health/${holdId}?done=placed` }),
})

export const releaseHoldAction = memberAction({
  input: ReleaseHoldInput,
  command: releaseHold,
  refusal: healthRefusalWords,
  done: ({ holdId }, { slug }) => ({ to: `/g/${slug}/health/${holdId}?done=released` }),
})
