import type { Metadata } from 'next'
import { ActionForm } from '#app/_ui/form/action-form.tsx'
import { SubmitButton } from '#app/_ui/form/submit-button.tsx'
import { TextField } from '#app/_ui/form/text-field.tsx'
import { PageHead } from '#app/_ui/page-head.tsx'
import { PublicFrame } from '#app/_ui/public-frame.tsx'
import { Section } from '#app/_ui/section.tsx'
import { loginContext } from '#lib/access/context.ts'
import { setPasswordAction, signOutEverywhereAction } from './actions.ts'

export const metadata: Metadata = { title: 'Your account' }

export default async function AccountPage() {
  const { login } = await loginContext('/account')
  return (
    <PublicFrame wide signedIn>
      <PageHead title="Your account" crumb={{ href: '/g', label: 'Your groups' }} meta={login.email} />
      <Section title={login.hasPassword ? 'Change your password' : 'Set a password'} id="password">
        <p className="read">
          You can always sign in with a link by e-mail; a password is for when the mail is slow or the shed
          has no signal for it.
        </p>
        <ActionForm action={setPasswordAction} label="Password" className="form read">
          <TextField
            name="password"
            type="password"
            label="New password"
            help="At least 10 characters; a few words are good."
            autoComplete="new-password"
          />
          <SubmitButton pending="Setting it">Set the password</SubmitButton>
        </ActionForm>
      </Section>
      <Section title="Signed in elsewhere?" id="elsewhere">
        <p className="read">This signs you out on every device, this one included.</p>
        <form action={signOutEverywhereAction}>
          <button type="submit" className="btn second">
            Sign out everywhere
          </button>
        </form>
      </Section>
    </PublicFrame>
  )
}
