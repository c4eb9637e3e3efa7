'use server'

import { redirect } from 'next/navigation'
import { fieldErrorsOf } from '#app/_actions/field-errors.ts'
import { formTree } from '#app/_actions/form-tree.ts'
import type { ActionState } from '#app/_ui/form/form-state.ts'
import { loginContext } from '#lib/access/context.ts'
import { SetPasswordInput } from '#lib/access/input.ts'
import { endSession, startSession } from '#lib/access/session.ts'
import { endAllSessions, setPassword } from '#lib/access/set-password.ts'

export async function setPasswordAction(_previous: ActionState, form: FormData): Promise<ActionState> {
  const { db, login } = await loginContext('/account')
  const parsed = SetPasswordInput.safeParse(formTree(form))
  if (!parsed.success) return { status: 'invalid', fieldErrors: fieldErrorsOf(parsed.error), values: {} }
  await startSession(await setPassword(db, login.loginId, parsed.data))
  return { status: 'done', message: 'Your password is set. Other devices have been signed out.' }
}

export async function signOutEverywhereAction(): Promise<void> {
  const { db, login } = await loginContext('/account')
  await endAllSessions(db, login.loginId)
  await endSession()
  redirect('/sign-in')
}
