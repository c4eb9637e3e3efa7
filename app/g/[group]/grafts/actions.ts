'use server'

import { redirect } from 'next/navigation'
import { fieldErrorsOf } from '#app/_actions/field-errors.ts'
import { formTree } from '#app/_actions/form-tree.ts'
import { memberAction } from '#app/_actions/member-action.ts'
import { type ActionState, formValuesOf } from '#app/_ui/form/form-state.ts'
import { memberContext } from '#lib/access/context.ts'
import { warningsBefore } from '#lib/attempts/attempt-warnings.ts'
import { RecordBatchInput } from '#lib/attempts/batch-input.ts'
import { RecordAttemptInput, RecordCheckInput, WithdrawAttemptInput } from '#lib/attempts/input.ts'
import { recordCheckWithPhoto, removePhoto } from '#lib/attempts/photos.ts'
import { recordAttempt } from '#lib/attempts/record-attempt.ts'
import { recordBatch } from '#lib/attempts/record-batch.ts'
import { attemptsRefusalWords, batchRefusalWords } from '#lib/attempts/refusal-words.ts'
import { withdrawAttempt } from '#lib/attempts/withdraw-attempt.ts'
import { answerCare } from '#lib/care/answer-care.ts'
import { basisWords } from '#lib/care/basis-words.ts'
import { AnswerCareInput } from '#lib/care/input.ts'
import { careRefusalWords } from '#lib/care/refusal-words.ts'
import { appPhotos } from '#lib/platform/photos/app-photos.ts'

const refusal = attemptsRefusalWords

const saveAttempt = memberAction({
  input: RecordAttemptInput,
  command: recordAttempt,
  refusal,
  done: ({ attemptId }, { slug }) => ({ to: `/g/${slug}/grafts/${attemptId}?done=recorded` }),
})

/** Records a batch; or, asked by the other button, says what to think of first and saves nothing. */
export async function recordAttemptAction(previous: ActionState, form: FormData): Promise<ActionState> {
  if (form.get('ask') !== 'first') return saveAttempt(previous, form)
  const { db, actor } = await memberContext(String(form.get('group') ?? ''))
  const parsed = RecordAttemptInput.safeParse(formTree(form))
  const values = formValuesOf(form)
  if (!parsed.success) return { status: 'invalid', fieldErrors: fieldErrorsOf(parsed.error), values }
  const warnings = await warningsBefore(db, actor, parsed.data)
  const message =
    warnings.length > 0
      ? 'To think of first; it can be saved all the same. Nothing is saved yet.'
      : 'We know of nothing that speaks against it. Nothing is saved yet.'
  return {
    status: 'refused',
    message,
    next: warnings.map(({ words, basis }) => `${words} ${basisWords(basis)}`),
    values,
  }
}

export const recordBatchAction = memberAction({
  input: RecordBatchInput,
  command: recordBatch,
  refusal: batchRefusalWords,
  done: (_batch, { slug }) => ({ to: `/g/${slug}/grafts?done=morning` }),
})

/** Records a look, with the photo that may come in the same form. */
export async function recordCheckAction(_previous: ActionState, form: FormData): Promise<ActionState> {
  const { db, actor, group } = await memberContext(String(form.get('group') ?? ''))
  const parsed = RecordCheckInput.safeParse(formTree(form))
  if (!parsed.success) {
    return { status: 'invalid', fieldErrors: fieldErrorsOf(parsed.error), values: formValuesOf(form) }
  }
  const file = form.get('photo')
  const upload = file instanceof File && file.size > 0 ? new Uint8Array(await file.arrayBuffer()) : null
  const recorded = await recordCheckWithPhoto(db, await appPhotos(), actor, parsed.data, upload)
  if (!recorded.ok) {
    return { status: 'refused', ...refusal(recorded.refusal), values: formValuesOf(form) }
  }
  redirect(`/g/${group.slug}/grafts/${recorded.value.attemptId}?done=looked`)
}

/** Takes a photo away. Not there, or not theirs: then nothing happens, and the page says how things stand. */
export async function removePhotoAction(form: FormData): Promise<void> {
  const { db, actor, group } = await memberContext(String(form.get('group') ?? ''))
  const photoId = String(form.get('photoId') ?? '')
  const removed = await removePhoto(db, await appPhotos(), actor, { photoId })
  const attemptId = removed.ok ? removed.value.attemptId : null
  redirect(`/g/${group.slug}/grafts${attemptId ? `/${attemptId}?done=photo-removed` : ''}`)
}

export const withdrawAttemptAction = memberAction({
  input: WithdrawAttemptInput,
  command: withdrawAttempt,
  refusal,
  done: ({ attemptId }, { slug }) => ({ to: `/g/${slug}/grafts/${attemptId}?done=withdrawn` }),
})

export const answerCareAction = memberAction({
  input: AnswerCareInput,
  command: answerCare,
  refusal: careRefusalWords,
  done: ({ attemptId }, { slug }) => ({ to: `/g/${slug}/grafts/${attemptId}?done=care#care` }),
})
