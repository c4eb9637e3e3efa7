'use server'

import { redirect } from 'next/navigation'
import { fieldErrorsOf } from '#app/_actions/field-errors.ts'
import { formTree } from '#app/_actions/form-tree.ts'
import { type ActionState, formValuesOf } from '#app/_ui/form/form-state.ts'
import { loginContext } from '#lib/access/context.ts'
import { acceptInvitation } from '#lib/people/accept-invitation.ts'
import { AcceptInvitationInput } from '#lib/people/input.ts'
import { peopleRefusalWords } from '#lib/people/refusal-words.ts'

/** Joins the group of an invitation as whoever is signed in; the person never comes from the form. */
export async function acceptInvitationAction(_previous: ActionState, form: FormData): Promise<ActionState> {
  const parsed = AcceptInvitationInput.safeParse(formTree(form))
  if (!parsed.success) {
    return { status: 'invalid', fieldErrors: fieldErrorsOf(parsed.error), values: formValuesOf(form) }
  }
  const { db, login } = await loginContext(`/join/${encodeURIComponent(parsed.data.token)}`)
  const accepted = await acceptInvitation(db, login, parsed.data)
  if (!accepted.ok) {
    return { status: 'refused', ...peopleRefusalWords(accepted.refusal), values: formValuesOf(form) }
  }
  redirect(`/g/${accepted.value.slug}`)
}
