'use server'

import { memberAction } from '#app/_actions/member-action.ts'
import { RecordAttemptInput, RecordCheckInput, WithdrawAttemptInput } from '#lib/attempts/input.ts'
import { recordAttempt } from '#lib/attempts/record-attempt.ts'
import { recordCheck } from '#lib/attempts/record-check.ts'
import { attemptsRefusalWords } from '#lib/attempts/refusal-words.ts'
import { withdrawAttempt } from '#lib/attempts/withdraw-attempt.ts'

const refusal = attemptsRefusalWords

export const recordAttemptAction = memberAction({
  input: RecordAttemptInput,
  command: recordAttempt,
  refusal,
  done: ({ attemptId }, { slug }) => ({ to: `/g/${slug}/grafts/${attemptId}?done=recorded` }),
})

export const recordCheckAction = memberAction({
  input: RecordCheckInput,
  command: recordCheck,
  refusal,
  done: ({ attemptId }, { slug }) => ({ to: `/g/${slug}/grafts/${attemptId}?done=looked` }),
})

export const withdrawAttemptAction = memberAction({
  input: WithdrawAttemptInput,
  command: withdrawAttempt,
  refusal,
  done: ({ attemptId }, { slug }) => ({ to: `/g/${slug}/grafts/${attemptId}?done=withdrawn` }),
})
