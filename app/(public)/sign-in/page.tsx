import type { Metadata } from 'next'
import { redirect } from 'next/navigation'
import { ActionForm } from '#app/_ui/form/action-form.tsx'
import { Hidden } from '#app/_ui/form/hidden.tsx'
import { SubmitButton } from '#app/_ui/form/submit-button.tsx'
import { TextField } from '#app/_ui/form/text-field.tsx'
import { PublicFrame } from '#app/_ui/public-frame.tsx'
import { installation } from '#lib/access/context.ts'
import { safePath } from '#lib/access/safe-path.ts'
import { currentLogin } from '#lib/access/session.ts'
import { DemoPeople } from './_parts/demo-people.tsx'
import { requestLinkAction, signInWithPasswordAction } from './actions.ts'

export const metadata: Metadata = { title: 'Sign in' }

export default async function SignInPage(props: PageProps<'/sign-in'>) {
  const { to } = await props.searchParams
  const backTo = safePath(typeof to === 'string' ? to : null, '/g')
  if (await currentLogin()) redirect(backTo)
  const { isDemo } = await installation()
  return (
    <PublicFrame>
      <div className="stack">
        <h1 className="gate-title">Sign in</h1>
        <ActionForm action={requestLinkAction} label="Sign in by e-mail" id="by-link">
          <Hidden name="to" value={backTo} />
          <TextField
            name="email"
            type="email"
            label="E-mail"
            help="The one you gave the group."
            autoComplete="username"
          />
          <SubmitButton pending="Sending the link" block>
            Send me a sign-in link
          </SubmitButton>
        </ActionForm>
        <p className="note">
          The link works once, for 30 minutes. On the next page you press one button, so a mail scanner cannot
          use it up.
        </p>
        <details>
          <summary>Use a password instead</summary>
          <ActionForm action={signInWithPasswordAction} label="Sign in with a password" id="by-password">
            <Hidden name="to" value={backTo} />
            <TextField name="email" type="email" label="E-mail" autoComplete="username" />
            <TextField name="password" type="password" label="Password" autoComplete="current-password" />
            <SubmitButton kind="second" pending="Signing in">
              Sign in
            </SubmitButton>
          </ActionForm>
        </details>
      </div>
      {isDemo ? (
        <DemoPeople backTo={backTo} />
      ) : (
        <p className="note">Not a member yet? Ask the organiser of your group for an invitation.</p>
      )}
    </PublicFrame>
  )
}
