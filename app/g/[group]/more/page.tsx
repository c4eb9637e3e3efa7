import type { Metadata } from 'next'
import Link from 'next/link'
import { PageHead } from '#app/_ui/page-head.tsx'
import { Rows } from '#app/_ui/rows.tsx'
import { signOutAction } from '#app/(public)/sign-in/actions.ts'
import { memberContext } from '#lib/access/context.ts'
import { roleWords } from '#lib/people/role-words.ts'
import { GroupPage } from '../_frame/group-page.tsx'

export const metadata: Metadata = { title: 'More' }

const places = [
  { path: '/trees', label: 'Trees', about: 'what grows where, and how its name is known' },
  { path: '/varieties', label: 'Varieties', about: 'names, other names, protection' },
  { path: '/results', label: 'Results', about: 'what took, and how sure that is' },
  { path: '/health', label: 'Health holds', about: 'wood and limbs that give nothing for now' },
  { path: '/wood/stores', label: 'Stores', about: 'fridges, cellars, readings' },
  { path: '/people', label: 'Members', about: 'who is in the group' },
  { path: '/settings', label: 'Settings', about: 'the group, and your units' },
] as const

export default async function MorePage(props: PageProps<'/g/[group]/more'>) {
  const { group: slug } = await props.params
  const context = await memberContext(slug)
  const { person, group, actor } = context
  return (
    <GroupPage context={context} current="more">
      <PageHead title="More" meta={`${group.name}, season ${group.season}`} />
      <nav aria-label="More pages">
        <Rows>
          {places.map((place) => (
            <li key={place.path}>
              <Link className="tap" href={`/g/${slug}${place.path}`} prefetch={false}>
                <b>{place.label}</b>
              </Link>
              <p className="note">{place.about}</p>
            </li>
          ))}
        </Rows>
      </nav>
      <div className="panel quiet">
        <p>
          Signed in as{' '}
          <Link href={`/g/${slug}/people/${actor.memberId}`} prefetch={false}>
            {person.displayName}
          </Link>
          , {roleWords[person.role].toLowerCase()}.
        </p>
        <div className="acts">
          <Link className="tap" href="/account" prefetch={false}>
            Account and password
          </Link>
          <Link className="tap" href="/g?all=yes" prefetch={false}>
            Your groups
          </Link>
          <form action={signOutAction}>
            <button type="submit" className="btn second">
              Sign out
            </button>
          </form>
        </div>
      </div>
    </GroupPage>
  )
}
