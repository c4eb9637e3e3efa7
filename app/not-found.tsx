import type { Metadata } from 'next'
import { ActionLink } from '#app/_ui/action-link.tsx'
import { PublicFrame } from '#app/_ui/public-frame.tsx'

export const metadata: Metadata = { title: 'Nothing here' }

export default function NotFound() {
  return (
    <PublicFrame>
      <div className="stack">
        <h1>Nothing here</h1>
        <p>
          There is no page at this address, or it belongs to a group that you are not signed in to. A code on
          a label is six characters; 0, O, 1, I and L are never among them.
        </p>
        <p className="acts">
          <ActionLink href="/" kind="first">
            Go to the start
          </ActionLink>
          <ActionLink href="/sign-in" kind="plain">
            Sign in
          </ActionLink>
        </p>
      </div>
    </PublicFrame>
  )
}
