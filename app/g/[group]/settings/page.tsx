import type { Metadata } from 'next'
import Link from 'next/link'
import { ActionForm } from '#app/_ui/form/action-form.tsx'
import { Hidden } from '#app/_ui/form/hidden.tsx'
import { PickGroup } from '#app/_ui/form/pick-group.tsx'
import { SubmitButton } from '#app/_ui/form/submit-button.tsx'
import { PageHead } from '#app/_ui/page-head.tsx'
import { Rows } from '#app/_ui/rows.tsx'
import { Section } from '#app/_ui/section.tsx'
import { type MemberContext, memberContext } from '#lib/access/context.ts'
import { can } from '#lib/access/policy.ts'
import { GroupPage } from '../_frame/group-page.tsx'
import { DoneNotice } from '../people/_parts/done-notice.tsx'
import { GroupSettingsFacts, GroupSettingsForm } from './_parts/group-settings.tsx'
import { chooseUnitsAction } from './actions.ts'

export const metadata: Metadata = { title: 'Group settings' }

const notices = {
  group: 'The group’s settings were saved.',
  units: 'Your units were saved.',
}

export default async function SettingsPage(props: PageProps<'/g/[group]/settings'>) {
  const [{ group: slug }, { done }] = await Promise.all([props.params, props.searchParams])
  const context = await memberContext(slug)
  const mayChange = can(context.actor, 'change-settings')
  return (
    <GroupPage context={context} current="settings">
      <DoneNotice done={done} words={notices} />
      <PageHead title="Settings" />
      <Section title="The group" id="group">
        {mayChange ? (
          <GroupSettingsForm group={context.group} />
        ) : (
          <GroupSettingsFacts group={context.group} />
        )}
      </Section>
      <Section title="Your units" id="units">
        <UnitsForm slug={slug} person={context.person} />
      </Section>
      <Section title="Elsewhere" id="elsewhere">
        <Rows>
          <li>
            <Link className="tap" href={`/g/${slug}/people`}>
              Members, invitations and roles
            </Link>
          </li>
          <li>
            <Link className="tap" href={`/g/${slug}/wood/stores`}>
              Fridges, cellars and other stores
            </Link>
          </li>
          {mayChange && (
            <li>
              <Link className="tap" href={`/g/${slug}/settings/ledger`}>
                Does the stick ledger add up?
              </Link>
            </li>
          )}
          <li>
            <Link className="tap" href={`/g/${slug}/people/${context.actor.memberId}`}>
              Your name and contact details
            </Link>
          </li>
          <li>
            <Link className="tap" href={`/g/${slug}/settings/mails`}>
              Your mails and calendar
            </Link>
          </li>
          <li>
            <Link className="tap" href="/account">
              Your account and password
            </Link>
          </li>
        </Rows>
      </Section>
    </GroupPage>
  )
}

interface UnitsFormProps {
  readonly slug: string
  readonly person: MemberContext['person']
}

function UnitsForm({ slug, person }: UnitsFormProps) {
  const values = { temperature: person.fahrenheit ? 'F' : 'C', length: person.inches ? 'in' : 'cm' }
  return (
    <ActionForm action={chooseUnitsAction} values={values} id="units-form" className="form read">
      <Hidden name="group" value={slug} />
      <PickGroup
        name="temperature"
        legend="Temperatures"
        inRow
        options={[
          { value: 'C', label: '°C' },
          { value: 'F', label: '°F' },
        ]}
      />
      <PickGroup
        name="length"
        legend="Lengths and heights"
        inRow
        options={[
          { value: 'cm', label: 'cm and m' },
          { value: 'in', label: 'in and ft' },
        ]}
      />
      <p className="note">Only what you read and type changes; the group’s records stay as they are.</p>
      <SubmitButton kind="second" pending="Saving">
        Save your units
      </SubmitButton>
    </ActionForm>
  )
}
