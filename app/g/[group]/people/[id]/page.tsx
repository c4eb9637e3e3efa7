import type { Metadata } from 'next'
import Link from 'next/link'
import { notFound } from 'next/navigation'
import { ActionLink } from '#app/_ui/action-link.tsx'
import { Empty } from '#app/_ui/empty.tsx'
import { Facts } from '#app/_ui/facts.tsx'
import { counted } from '#app/_ui/measures.ts'
import { PageHead } from '#app/_ui/page-head.tsx'
import { RecordedDay } from '#app/_ui/recorded-day.tsx'
import { Section } from '#app/_ui/section.tsx'
import { memberContext } from '#lib/access/context.ts'
import { getMember } from '#lib/people/queries.ts'
import { roleWords } from '#lib/people/role-words.ts'
import type { MemberView } from '#lib/people/view.ts'
import { GroupPage } from '../../_frame/group-page.tsx'
import { DoneNotice } from '../_parts/done-notice.tsx'
import { MemberTrees } from '../_parts/member-trees.tsx'

export async function generateMetadata(props: PageProps<'/g/[group]/people/[id]'>): Promise<Metadata> {
  const { group, id } = await props.params
  const { db, actor } = await memberContext(group)
  return { title: (await getMember(db, actor, id))?.name ?? 'Members' }
}

const notices = {
  added: 'The person was added. Wood, trees and grafts can now be recorded for them.',
  saved: 'The changes were saved.',
  role: 'The role was changed; it counts from the next page they open.',
  left: 'The departure was recorded. What they gave and took stays on record.',
  back: 'They are back in the group.',
}

export default async function PersonPage(props: PageProps<'/g/[group]/people/[id]'>) {
  const [{ group: slug, id }, { done }] = await Promise.all([props.params, props.searchParams])
  const context = await memberContext(slug)
  const { db, actor, today } = context
  const person = await getMember(db, actor, id)
  if (!person) notFound()
  return (
    <GroupPage context={context} current="people">
      <DoneNotice done={done} words={notices} />
      <PageHead
        title={person.name}
        crumb={{ href: `/g/${slug}/people`, label: 'Members' }}
        meta={
          <>
            {roleWords[person.role]}, {person.leftOn ? 'joined' : 'since'}{' '}
            <RecordedDay date={person.joinedOn} today={today} />
            {person.leftOn && (
              <>
                , left <RecordedDay date={person.leftOn} today={today} />
              </>
            )}
            . {person.hasAccount ? 'Has an account.' : 'No account.'}
          </>
        }
        acts={
          (person.mayEdit || person.mayInvite) && (
            <>
              {person.mayEdit && (
                <ActionLink href={`/g/${slug}/people/${id}/edit`}>
                  {person.isSelf ? 'Change your details' : 'Change'}
                </ActionLink>
              )}
              {person.mayInvite && (
                <ActionLink href={`/g/${slug}/people/invite?member=${id}`}>Invite by e-mail</ActionLink>
              )}
            </>
          )
        }
      />
      <Section title="How to reach them" id="contact">
        <Reach person={person} />
      </Section>
      <Section title="Trees" id="trees">
        {person.trees.length > 0 ? (
          <MemberTrees slug={slug} trees={person.trees} />
        ) : (
          <Empty title="No trees on record">
            {person.isSelf ? 'Add the trees that you could cut from.' : 'Trees appear when one is recorded.'}
          </Empty>
        )}
      </Section>
      {person.standing && <StandingSection slug={slug} person={person} />}
    </GroupPage>
  )
}

function Reach({ person }: { readonly person: MemberView }) {
  if (!person.contact) {
    return (
      <p>
        Only the person, organisers and health stewards see telephone and e-mail. Ask one of them to pass a
        message on.
      </p>
    )
  }
  const { phone, email } = person.contact
  return (
    <Facts
      items={[
        ['Telephone', phone ? <PhoneLink phone={phone} key="phone" /> : 'not given'],
        ['E-mail', email ? <MailLink email={email} key="email" /> : 'not given'],
        person.note ? ['Note', person.note] : null,
        person.openInvitation && ['Invited', `${person.openInvitation.email}, not accepted yet`],
      ]}
    />
  )
}

const PhoneLink = ({ phone }: { readonly phone: string }) => (
  <a href={`tel:${phone.replace(/[^+\d]/g, '')}`}>{phone}</a>
)

const MailLink = ({ email }: { readonly email: string }) => <a href={`mailto:${email}`}>{email}</a>

function StandingSection({ slug, person }: { readonly slug: string; readonly person: MemberView }) {
  if (!person.standing) return null
  const { claims, sticksHeld, stores } = person.standing
  const nothing = claims === 0 && sticksHeld === 0 && stores === 0
  return (
    <Section title="What stands in this name" id="standing">
      {nothing ? (
        <p>No open claims, no sticks in hand, no stores.</p>
      ) : (
        <Facts
          items={[
            ['Open claims', String(claims)],
            ['In hand', counted(sticksHeld, 'stick')],
            stores > 0 && [
              'Stores kept',
              <Link key="stores" href={`/g/${slug}/wood/stores`}>
                {String(stores)}
              </Link>,
            ],
          ]}
        />
      )}
      {person.leftOn && !nothing && (
        <p className="note">
          This person has left. Ask for what they hold, and give their open claims back so that others can
          take the wood.
        </p>
      )}
    </Section>
  )
}
