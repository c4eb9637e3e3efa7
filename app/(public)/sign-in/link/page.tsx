import type { Metadata } from 'next'
import { ActionForm } from '#app/_ui/form/action-form.tsx'
import { Hidden } from '#app/_ui/form/hidden.tsx'
import { SubmitButton } from '#app/_ui/form/submit-button.tsx'
import { PublicFrame } from '#app/_ui/public-frame.tsx'
import { safePath } from '#lib/access/safe-path.ts'
import { useLinkAction } from '../actions.ts'

export const metadata: Metadata = { title: 'Sign in with your link' }

export default async function SignInLinkPage(props: PageProps<'/sign-in/link'>) {
  const { token, to } = await props.searchParams
  return (
    <PublicFrame>
      <div className="stack">
        <h1 className="gate-title">One more press</h1>
        <p>Your link is good as far as this page can tell. Press the button to sign in on this device.</p>
        <ActionForm action={useLinkAction} label="Sign in with the link">
          <Hidden name="token" value={typeof token === 'string' ? token : ''} />
          <Hidden name="to" value={safePath(typeof to === 'string' ? to : null, '/g')} />
          <SubmitButton pending="Signing in" block>
            Sign me in
          </SubmitButton>
        </ActionForm>
        <p className="note">
          <a href="/sign-in">Ask for another link</a>
        </p>
      </div>
    </PublicFrame>
  )
}
