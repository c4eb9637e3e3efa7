import { ActionLink } from '#app/_ui/action-link.tsx'
import { PublicFrame } from '#app/_ui/public-frame.tsx'
import { currentLogin } from '#lib/access/session.ts'

export default async function LandingPage() {
  const login = await currentLogin()
  return (
    <PublicFrame>
      <div className="stack">
        <h1 className="gate-title">A count, on wood, that two people can check</h1>
        <p className="lead">
          Tallywood follows a stick of winter wood from the donor tree to the tree it becomes: cut, kept cold,
          shared out, grafted or rooted, and looked at again.
        </p>
        <p>
          It says how long wood is likely to keep, shares scarce wood fairly, and tells a group what took, and
          how sure it can be.
        </p>
        <p>
          {login ? (
            <ActionLink href="/g" kind="first">
              Go to your group
            </ActionLink>
          ) : (
            <ActionLink href="/sign-in" kind="first">
              Sign in
            </ActionLink>
          )}
        </p>
        <p>
          <a href="/window">How long will this wood keep?</a> A calculator for anybody, without an account.
        </p>
      </div>
    </PublicFrame>
  )
}
