import type { Metadata } from 'next'
import { ActionLink } from '#app/_ui/action-link.tsx'
import { longDay } from '#app/_ui/dates.ts'
import { ActionForm } from '#app/_ui/form/action-form.tsx'
import { Hidden } from '#app/_ui/form/hidden.tsx'
import { SubmitButton } from '#app/_ui/form/submit-button.tsx'
import { TextField } from '#app/_ui/form/text-field.tsx'
import { PublicFrame } from '#app/_ui/public-frame.tsx'
import { Refusal } from '#app/_ui/refusal.tsx'
import { signOutAction } from '#app/(public)/sign-in/actions.ts'
import { publicContext } from '#lib/access/context.ts'
import { type CurrentLogin, currentLogin } from '#lib/access/session.ts'
import { getInvitation } from '#lib/people/queries.ts'
import { peopleRefusalWords } from '#lib/people/refusal-words.ts'
import { roleMeanings, roleWords } from '#lib/people/role-words.ts'
import type { InvitationView } from '#lib/people/view.ts'
import { acceptInvitationAction } from './actions.ts'

// The address is the key to the door: it goes into no index. Not "no-referrer": without script the browser would
// then hide where the form comes from, and the server takes no form of unknown origin.
export const metadata: Metadata = {
  title: 'Join a group',
  robots: { index: false, follow: false },
  referrer: 'same-origin',
}

export default async function JoinPage(props: PageProps<'/join/[token]'>) {
  const { token } = await props.params
  const [invitation, login] = await Promise.all([getInvitation(publicContext().db, token), currentLogin()])
  return (
    <PublicFrame {...(invitation ? { group: { name: invitation.groupName } } : {})}>
      <div className="stack">
        <h1 className="gate-title">{invitation ? `Join ${invitation.groupName}` : 'Join a group'}</h1>
        {invitation?.state === 'open' ? (
          <Open token={token} invitation={invitation} login={login} />
        ) : (
          <Closed invitation={invitation} login={login} />
        )}
      </div>
    </PublicFrame>
  )
}

interface OpenProps {
  readonly token: string
  readonly invitation: InvitationView
  readonly login: CurrentLogin | null
}

function Open({ token, invitation, login }: OpenProps) {
  return (
    <>
      <p className="lead">
        {invitation.invitedBy} invites {invitation.memberName ?? 'you'} as{' '}
        {roleWords[invitation.role].toLowerCase()}.
      </p>
      <p>{roleMeanings[invitation.role]}</p>
      <Entrance token={token} invitation={invitation} login={login} />
      <p className="note">The invitation can be used until {longDay(invitation.expiresOn)}, once.</p>
    </>
  )
}

function Entrance({ token, invitation, login }: OpenProps) {
  if (!login) {
    return (
      <>
        <p>
          Sign in with <b>{invitation.email}</b> and you come back here. If you have no account yet, the
          sign-in link makes one.
        </p>
        <p>
          <ActionLink href={`/sign-in?to=${encodeURIComponent(`/join/${token}`)}`} kind="first" block>
            Sign in to join
          </ActionLink>
        </p>
      </>
    )
  }
  if (login.email !== invitation.email) {
    return (
      <>
        <Refusal
          {...peopleRefusalWords({
            kind: 'other-address',
            invited: invitation.email,
            signedIn: login.email,
          })}
        />
        <SignOut />
      </>
    )
  }
  return (
    <ActionForm action={acceptInvitationAction} values={{ displayName: login.displayName }} label="Join">
      <Hidden name="token" value={token} />
      {!invitation.memberName && (
        <TextField
          name="displayName"
          label="Your name"
          help="As the group knows you; every member sees it."
          maxLength={80}
          autoComplete="name"
        />
      )}
      <SubmitButton pending="Joining" block>
        Join the group
      </SubmitButton>
    </ActionForm>
  )
}

interface ClosedProps {
  readonly invitation: InvitationView | null
  readonly login: CurrentLogin | null
}

/** Why the door stays shut, and where to go instead. */
function Closed({ invitation, login }: ClosedProps) {
  const wasTheirs = invitation?.state === 'used' && login?.email === invitation.email
  return (
    <>
      {wasTheirs ? (
        <p className="lead">You have joined already.</p>
      ) : (
        <Refusal {...closedWords(invitation)} />
      )}
      <p>
        <ActionLink href={login ? '/g' : '/sign-in'} kind="first">
          {login ? 'Go to your groups' : 'Sign in'}
        </ActionLink>
      </p>
    </>
  )
}

function closedWords(invitation: InvitationView | null) {
  if (!invitation) return peopleRefusalWords({ kind: 'invitation-unknown' })
  if (invitation.state === 'revoked') {
    return peopleRefusalWords({ kind: 'invitation-revoked', invitedBy: invitation.invitedBy })
  }
  if (invitation.state === 'used') return peopleRefusalWords({ kind: 'invitation-used' })
  return peopleRefusalWords({
    kind: 'invitation-expired',
    on: invitation.expiresOn,
    invitedBy: invitation.invitedBy,
  })
}

function SignOut() {
  return (
    <form action={signOutAction}>
      <button type="submit" className="btn second">
        Sign out
      </button>
    </form>
  )
}
