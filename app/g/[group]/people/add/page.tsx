import { randomUUID } from 'node:crypto'
import type { Metadata } from 'next'
import { ActionForm } from '#app/_ui/form/action-form.tsx'
import { Hidden } from '#app/_ui/form/hidden.tsx'
import { OnceKey } from '#app/_ui/form/once-key.tsx'
import { SubmitButton } from '#app/_ui/form/submit-button.tsx'
import { PageHead } from '#app/_ui/page-head.tsx'
import { Refusal } from '#app/_ui/refusal.tsx'
import { memberContext } from '#lib/access/context.ts'
import { can, notAllowed } from '#lib/access/policy.ts'
import { peopleRefusalWords } from '#lib/people/refusal-words.ts'
import { GroupPage } from '../../_frame/group-page.tsx'
import { MemberFields } from '../_parts/member-fields.tsx'
import { RoleField } from '../_parts/role-field.tsx'
import { addMemberAction } from '../actions.ts'

export const metadata: Metadata = { title: 'Add a person' }

export default async function AddPersonPage(props: PageProps<'/g/[group]/people/add'>) {
  const { group: slug } = await props.params
  const context = await memberContext(slug)
  const mayAdd = can(context.actor, 'add-people-without-account')
  return (
    <GroupPage context={context} current="people">
      <PageHead
        title="Add a person without an account"
        crumb={{ href: `/g/${slug}/people`, label: 'Members' }}
        lead="For somebody who gives or takes wood and does not use a computer. You can record for them, and invite them later."
      />
      {mayAdd ? (
        <ActionForm action={addMemberAction} values={{ role: 'member' }} label="Person" className="form read">
          <Hidden name="group" value={slug} />
          <OnceKey value={randomUUID()} />
          <MemberFields />
          {can(context.actor, 'change-roles') && <RoleField />}
          <SubmitButton pending="Adding the person">Add the person</SubmitButton>
        </ActionForm>
      ) : (
        <Refusal {...peopleRefusalWords(notAllowed('add-people-without-account'))} />
      )}
    </GroupPage>
  )
}
