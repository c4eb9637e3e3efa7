import { randomUUID } from 'node:crypto'
import type { Metadata } from 'next'
import { ActionForm } from '#app/_ui/form/action-form.tsx'
import { Hidden } from '#app/_ui/form/hidden.tsx'
import { OnceKey } from '#app/_ui/form/once-key.tsx'
import { SelectField } from '#app/_ui/form/select-field.tsx'
import { SubmitButton } from '#app/_ui/form/submit-button.tsx'
import { TextField } from '#app/_ui/form/text-field.tsx'
import { PageHead } from '#app/_ui/page-head.tsx'
import { Refusal } from '#app/_ui/refusal.tsx'
import { memberContext } from '#lib/access/context.ts'
import { can, notAllowed } from '#lib/access/policy.ts'
import { invitationDays } from '#lib/people/invitation-token.ts'
import { getMember, memberChoices } from '#lib/people/queries.ts'
import { peopleRefusalWords } from '#lib/people/refusal-words.ts'
import { GroupPage } from '../../_frame/group-page.tsx'
import { firstOf } from '../_parts/first-of.ts'
import { RoleField } from '../_parts/role-field.tsx'
import { invitePersonAction } from '../actions.ts'

export const metadata: Metadata = { title: 'Invite a person' }

export default async function InvitePage(props: PageProps<'/g/[group]/people/invite'>) {
  const [{ group: slug }, { member }] = await Promise.all([props.params, props.searchParams])
  const context = await memberContext(slug)
  const { db, actor } = context
  const mayInvite = can(actor, 'invite-people')
  const [choices, chosen] = await Promise.all([
    memberChoices(db, actor),
    getMember(db, actor, firstOf(member)),
  ])
  const withoutAccount = choices.filter((choice) => !choice.hasAccount)
  const values = {
    email: chosen?.contact?.email ?? '',
    memberId: chosen && !chosen.hasAccount ? chosen.id : '',
    role: chosen && !chosen.hasAccount ? chosen.role : 'member',
  }
  return (
    <GroupPage context={context} current="people">
      <PageHead
        title="Invite a person"
        crumb={{ href: `/g/${slug}/people`, label: 'Members' }}
        lead={`A mail goes out with a link that works once, for ${invitationDays} days, and only for this address.`}
      />
      {mayInvite ? (
        <ActionForm action={invitePersonAction} values={values} label="Invitation" className="form read">
          <Hidden name="group" value={slug} />
          <OnceKey value={randomUUID()} />
          <TextField name="email" label="E-mail" type="email" autoComplete="off" />
          {withoutAccount.length > 0 && (
            <SelectField
              name="memberId"
              label="Does the group know this person already?"
              help="Then the account opens what was recorded under that name."
              empty="No, somebody new"
              options={withoutAccount.map(({ id, name }) => ({ value: id, label: name }))}
            />
          )}
          <RoleField />
          <SubmitButton pending="Sending the invitation">Send the invitation</SubmitButton>
        </ActionForm>
      ) : (
        <Refusal {...peopleRefusalWords(notAllowed('invite-people'))} />
      )}
    </GroupPage>
  )
}
