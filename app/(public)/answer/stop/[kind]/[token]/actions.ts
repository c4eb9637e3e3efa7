'use server'

import { redirect } from 'next/navigation'
import { publicContext } from '#lib/access/context.ts'
import { mailKinds, switchMailByLink } from '#lib/people/mail-choice.ts'

/** Stops one kind of mail, or takes it up again. Whose mail it is stands in the signed link. */
export async function switchMailAction(form: FormData): Promise<void> {
  const kind = mailKinds.find((known) => known === form.get('kind'))
  const token = String(form.get('token') ?? '')
  if (kind) await switchMailByLink(publicContext().db, { kind, token, on: form.get('on') === 'yes' })
  redirect(`/answer/stop/${kind ?? 'reminders'}/${encodeURIComponent(token)}`)
}
