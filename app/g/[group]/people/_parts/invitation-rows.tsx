import { ActionForm } from '#app/_ui/form/action-form.tsx'
import { Hidden } from '#app/_ui/form/hidden.tsx'
import { SubmitButton } from '#app/_ui/form/submit-button.tsx'
import { RecordedDay } from '#app/_ui/recorded-day.tsx'
import { Rows } from '#app/_ui/rows.tsx'
import { StateWord } from '#app/_ui/state-word.tsx'
import type { CivilDate } from '#lib/kernel/civil-date.ts'
import { roleWords } from '#lib/people/role-words.ts'
import type { InvitationRow } from '#lib/people/view.ts'
import { revokeInvitationAction } from '../actions.ts'

interface InvitationRowsProps {
  readonly slug: string
  readonly invitations: readonly InvitationRow[]
  readonly today: CivilDate
}

/** Invitations that nobody has accepted yet. */
export function InvitationRows({ slug, invitations, today }: InvitationRowsProps) {
  return (
    <Rows>
      {invitations.map((invitation) => (
        <li key={invitation.id} className="stack-s">
          <p>
            <b>{invitation.email}</b>
            {invitation.memberName && ` for ${invitation.memberName}`}, as{' '}
            {roleWords[invitation.role].toLowerCase()}
          </p>
          <p className="note">
            Sent <RecordedDay date={invitation.sentOn} today={today} /> by {invitation.invitedBy};{' '}
            {invitation.state === 'open' ? 'works' : 'worked'} until{' '}
            <RecordedDay date={invitation.expiresOn} today={today} />.{' '}
            {invitation.state === 'expired' && <StateWord kind="past">Run out; invite again</StateWord>}
          </p>
          <ActionForm
            action={revokeInvitationAction}
            id={`revoke-${invitation.id}`}
            label={`Invitation of ${invitation.email}`}
          >
            <Hidden name="group" value={slug} />
            <Hidden name="invitationId" value={invitation.id} />
            <SubmitButton kind="second" small pending="Taking it back">
              Take it back
            </SubmitButton>
          </ActionForm>
        </li>
      ))}
    </Rows>
  )
}
