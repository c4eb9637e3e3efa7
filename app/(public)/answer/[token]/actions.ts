'use server'

import { redirect } from 'next/navigation'
import { fieldErrorsOf } from '#app/_actions/field-errors.ts'
import { formTree } from '#app/_actions/form-tree.ts'
import { type ActionState, formValuesOf } from '#app/_ui/form/form-state.ts'
import { publicContext } from '#lib/access/context.ts'
import { answerByLink } from '#lib/attempts/answer-by-link.ts'
import { AnswerByLinkInput } from '#lib/attempts/answer-input.ts'
import { attemptsRefusalWords } from '#lib/attempts/refusal-words.ts'

/** Records what is said through a mailed link. Who says it is in the signed link, never in the form. */
export async function answerByLinkAction(_previous: ActionState, form: FormData): Promise<ActionState> {
  const parsed = AnswerByLinkInput.safeParse(formTree(form))
  if (!parsed.success) {
    return { status: 'invalid', fieldErrors: fieldErrorsOf(parsed.error), values: formValuesOf(form) }
  }
  const answered = await answerByLink(publicContext().db, parsed.data)
  if (!answered.ok) {
    return { status: 'refused', ...attemptsRefusalWords(answered.refusal), values: formValuesOf(form) }
  }
  redirect(`/answer/${encodeURIComponent(parsed.data.token)}?done=answered`)
}
