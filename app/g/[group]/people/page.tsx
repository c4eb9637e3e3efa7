import type { Metadata } from 'next'
import Link from 'next/link'
import { ActionLink } from '#app/_ui/action-link.tsx'
import { Empty } from '#app/_ui/empty.tsx'
import { counted } from '#app/_ui/measures.ts'
import { PageHead } from '#app/_ui/page-head.tsx'
import { Section } from '#app/_ui/section.tsx'
import { memberContext } from '#lib/access/context.ts'
import { can } from '#lib/access/policy.ts'
import { listInvitations, listMembers } from '#lib/people/queries.ts'
import { GroupPage } from '../_frame/group-page.tsx'
import { DoneNotice } from './_parts/done-notice.tsx'
import { firstOf } from './_parts/first-of.ts'
import { InvitationRows } from './_parts/invitation-rows.tsx'
import { PeopleRows } from './_parts/people-rows.tsx'
import { SearchForm } from './_parts/search-form.tsx'

export const metadata: Metadata = { title: 'Members' }

const notices = { revoked: 'The invitation was taken back; its link opens nothing any more.' }

export default async function PeoplePage(props: PageProps<'/g/[group]/people'>) {
  const [{ group: slug }, { q, done }] = await Promise.all([props.params, props.searchParams])
  const context = await memberContext(slug)
  const { db, actor, today } = context
  const search = firstOf(q)
  const [people, invitations] = await Promise.all([
    listMembers(db, actor, { search }),
    listInvitations(db, actor),
  ])
  const here = people.filter((person) => !person.leftOn)
  const left = people.filter((person) => person.leftOn)
  const mayAdd = can(actor, 'add-people-without-account')
  const mayInvite = can(actor, 'invite-people')
  return (
    <GroupPage context={context} current="people">
      <DoneNotice done={done} words={notices} />
      <PageHead
        title="Members"
        meta={search ? `${counted(people.length, 'person', 'people')} found` : `${here.length} in the group`}
        acts={
          (mayAdd || mayInvite) && (
            <>
              {mayInvite && (
                <ActionLink href={`/g/${slug}/people/invite`} kind="first">
                  Invite by e-mail
                </ActionLink>
              )}
              {mayAdd && <ActionLink href={`/g/${slug}/people/add`}>Add without an account</ActionLink>}
            </>
          )
        }
      />
      <SearchForm path={`/g/${slug}/people`} label="Find a person" search={search} />
      <Section title={search ? `Named like “${search}”` : 'In the group'} id="here">
        {here.length > 0 ? (
          <PeopleRows slug={slug} people={here} today={today} />
        ) : (
          <Empty title="Nobody by that name" action={<Link href={`/g/${slug}/people`}>Show everybody</Link>}>
            A part of the name is enough, and accents make no difference.
          </Empty>
        )}
      </Section>
      {invitations.length > 0 && (
        <Section title="Invited, not here yet" id="invited">
          <InvitationRows slug={slug} invitations={invitations} today={today} />
        </Section>
      )}
      {left.length > 0 && (
        <Section title="Left the group" id="left">
          <p className="note">Their names stay, because wood is traced through them.</p>
          <PeopleRows slug={slug} people={left} today={today} />
        </Section>
      )}
      {can(actor, 'read-log') && (
        <Section title="Who did what" id="log">
          <p>
            Every entry that changes something is noted with the name, the day and on whose behalf it was.{' '}
            <Link href={`/g/${slug}/people/log`}>Read the log</Link>
          </p>
        </Section>
      )}
    </GroupPage>
  )
}
