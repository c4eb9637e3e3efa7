import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { ActionForm } from '#app/_ui/form/action-form.tsx'
import { DateField } from '#app/_ui/form/date-field.tsx'
import { Hidden } from '#app/_ui/form/hidden.tsx'
import { SubmitButton } from '#app/_ui/form/submit-button.tsx'
import { PageHead } from '#app/_ui/page-head.tsx'
import { Refusal } from '#app/_ui/refusal.tsx'
import { Section } from '#app/_ui/section.tsx'
import { memberContext } from '#lib/access/context.ts'
import { notAllowed } from '#lib/access/policy.ts'
import type { CivilDate } from '#lib/kernel/civil-date.ts'
import { getMember } from '#lib/people/queries.ts'
import { peopleRefusalWords } from '#lib/people/refusal-words.ts'
import type { MemberView } from '#lib/people/view.ts'
import { GroupPage } from '../../../_frame/group-page.tsx'
import { MemberFields } from '../../_parts/member-fields.tsx'
import { RoleField } from '../../_parts/role-field.tsx'
import {
  changeRoleAction,
  editMemberAction,
  recordDepartureAction,
  recordReturnAction,
} from '../../actions.ts'

export const metadata: Metadata = { title: 'Change a person' }

export default async function EditPersonPage(props: PageProps<'/g/[group]/people/[id]/edit'>) {
  const { group: slug, id } = await props.params
  const context = await memberContext(slug)
  const person = await getMember(context.db, context.actor, id)
  if (!person) notFound()
  return (
    <GroupPage context={context} current="people">
      <PageHead
        title={person.isSelf ? 'Change your details' : `Change ${person.name}`}
        crumb={{ href: `/g/${slug}/people/${id}`, label: person.name }}
      />
      {person.mayEdit ? (
        <EditForms slug={slug} person={person} today={context.today} />
      ) : (
        <Refusal {...peopleRefusalWords(notAllowed('see-contacts'))} />
      )}
    </GroupPage>
  )
}

interface EditFormsProps {
  readonly slug: string
  readonly person: MemberView
  readonly today: CivilDate
}

function EditForms({ slug, person, today }: EditFormsProps) {
  const details = {
    displayName: person.name,
    phone: person.contact?.phone ?? '',
    email: person.contact?.email ?? '',
    note: person.note ?? '',
  }
  const mayRecordLeaving = person.isSelf || person.mayChangeRole
  return (
    <>
      <Section title="Name and contact" id="details">
        <ActionForm action={editMemberAction} values={details} id="details-form" className="form read">
          <Hidden name="group" value={slug} />
          <Hidden name="memberId" value={person.id} />
          <MemberFields />
          <SubmitButton pending="Saving">Save the details</SubmitButton>
        </ActionForm>
      </Section>
      {person.mayChangeRole && !person.leftOn && (
        <Section title="Role" id="role">
          <ActionForm
            action={changeRoleAction}
            values={{ role: person.role }}
            id="role-form"
            className="form read"
          >
            <Hidden name="group" value={slug} />
            <Hidden name="memberId" value={person.id} />
            <RoleField legend={`What ${person.name} does in the group`} />
            <SubmitButton kind="second" pending="Changing the role">
              Change the role
            </SubmitButton>
          </ActionForm>
        </Section>
      )}
      {mayRecordLeaving && !person.leftOn && <Leaving slug={slug} person={person} today={today} />}
      {person.mayChangeRole && person.leftOn && <ComingBack slug={slug} person={person} />}
    </>
  )
}

function Leaving({ slug, person, today }: EditFormsProps) {
  return (
    <Section title={person.isSelf ? 'Leave the group' : 'Left the group'} id="leaving">
      <p className="read">
        The account no longer opens this group. What was given, taken and grafted stays on record under the
        name, so that wood can be traced if a tree is later found sick. An organiser can take this back.
      </p>
      <ActionForm
        action={recordDepartureAction}
        values={{ leftOn: today }}
        id="leaving-form"
        className="form read"
      >
        <Hidden name="group" value={slug} />
        <Hidden name="memberId" value={person.id} />
        <DateField name="leftOn" label="Left on" min={person.joinedOn} max={today} />
        <SubmitButton kind="stop" pending="Recording it">
          {person.isSelf ? 'Leave the group' : 'Record that they left'}
        </SubmitButton>
      </ActionForm>
    </Section>
  )
}

function ComingBack({ slug, person }: Omit<EditFormsProps, 'today'>) {
  return (
    <Section title="Back in the group" id="back">
      <ActionForm action={recordReturnAction} id="back-form" className="form read">
        <Hidden name="group" value={slug} />
        <Hidden name="memberId" value={person.id} />
        <SubmitButton kind="second" pending="Recording it">
          Record that they are back
        </SubmitButton>
      </ActionForm>
    </Section>
  )
}
