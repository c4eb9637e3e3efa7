'use server'

import { redirect } from 'next/navigation'
import { fieldErrorsOf } from '#app/_actions/field-errors.ts'
import { formTree } from '#app/_actions/form-tree.ts'
import { type ActionState, formValuesOf } from '#app/_ui/form/form-state.ts'
import { publicContext } from '#lib/access/context.ts'
import { RequestLinkInput, SignInWithPasswordInput } from '#lib/access/input.ts'
import { safePath } from '#lib/access/safe-path.ts'
import { endSession, startSession } from '#lib/access/session.ts'
import { signInAsDemoPerson } from '#lib/access/sign-in-as-demo-person.ts'
import { requestSignInLink, useSignInLink } from '#lib/access/sign-in-link.ts'
import { signInWithPassword } from '#lib/access/sign-in-with-password.ts'
import { demoPeople } from '#seed/demo/people-summary.ts'

const whereTo = (form: FormData) => safePath(String(form.get('to') ?? ''), '/g')

export async function requestLinkAction(_previous: ActionState, form: FormData): Promise<ActionState> {
  const parsed = RequestLinkInput.safeParse(formTree(form))
  if (!parsed.success) {
    return { status: 'invalid', fieldErrors: fieldErrorsOf(parsed.error), values: formValuesOf(form) }
  }
  const { db, baseUrl } = publicContext()
  const asked = await requestSignInLink(db, parsed.data, baseUrl, whereTo(form))
  if (!asked.ok) {
    return {
      status: 'refused',
      message: 'Several links were asked for within the hour, so no more are sent just now.',
      next: ['Use the newest link in your mail.', 'Try again in an hour, or use a password.'],
      values: formValuesOf(form),
    }
  }
  return {
    status: 'done',
    message: `If ${parsed.data.email} belongs to a member, a link is on its way. It works once, for ${asked.value.minutes} minutes.`,
  }
}

export async function signInWithPasswordAction(_previous: ActionState, form: FormData): Promise<ActionState> {
  const { password: _kept, ...values } = formValuesOf(form)
  const parsed = SignInWithPasswordInput.safeParse(formTree(form))
  if (!parsed.success) return { status: 'invalid', fieldErrors: fieldErrorsOf(parsed.error), values }
  const signedIn = await signInWithPassword(publicContext().db, parsed.data)
  if (!signedIn.ok) {
    const tooMany = signedIn.refusal.kind === 'too-many-tries'
    return {
      status: 'refused',
      message: tooMany
        ? 'There were too many wrong passwords for this address, so none is checked for a quarter of an hour.'
        : 'This address and this password do not go together.',
      next: [
        'Ask for a sign-in link by e-mail instead.',
        ...(tooMany ? [] : ['Check the spelling of both.']),
      ],
      values,
    }
  }
  await startSession(signedIn.value)
  redirect(whereTo(form))
}

export async function useLinkAction(_previous: ActionState, form: FormData): Promise<ActionState> {
  const used = await useSignInLink(publicContext().db, String(form.get('token') ?? ''))
  if (!used.ok) {
    return {
      status: 'refused',
      message: 'This link has been used, or is older than half an hour.',
      next: ['Ask for a new one on the sign-in page.'],
      values: {},
    }
  }
  await startSession(used.value)
  redirect(whereTo(form))
}

/** Signs in as one of the invented people; over a real database there are none. */
export async function signInAsDemoPersonAction(form: FormData): Promise<void> {
  const { db } = publicContext()
  const signedIn = await signInAsDemoPerson(db, String(form.get('loginId') ?? ''), await demoPeople(db))
  if (!signedIn) redirect('/sign-in')
  await startSession(signedIn)
  redirect(whereTo(form))
}

export async function signOutAction(): Promise<void> {
  await endSession()
  redirect('/sign-in')
}
