import type { Metadata } from 'next'
import Link from 'next/link'
import { redirect } from 'next/navigation'
import { Empty } from '#app/_ui/empty.tsx'
import { PublicFrame } from '#app/_ui/public-frame.tsx'
import { Rows } from '#app/_ui/rows.tsx'
import { signOutAction } from '#app/(public)/sign-in/actions.ts'
import { loginContext } from '#lib/access/context.ts'
import { groupsOfLogin } from '#lib/people/queries.ts'
import { roleWords } from '#lib/people/role-words.ts'

export const metadata: Metadata = { title: 'Your groups' }

export default async function GroupsPage(props: PageProps<'/g'>) {
  const { all } = await props.searchParams
  const { db, login } = await loginContext('/g')
  const groups = await groupsOfLogin(db, login.loginId)
  const [only] = groups
  if (only && groups.length === 1 && all === undefined) redirect(`/g/${only.slug}`)
  return (
    <PublicFrame>
      <div className="stack">
        <h1 className="gate-title">Your groups</h1>
        {groups.length > 0 ? (
          <Rows>
            {groups.map((group) => (
              <li key={group.slug}>
                <Link className="tap" href={`/g/${group.slug}`} prefetch={false}>
                  <b>{group.name}</b>
                </Link>
                <p className="note">{roleWords[group.role]}</p>
              </li>
            ))}
          </Rows>
        ) : (
          <Empty title="You are in no group yet">
            <p>
              Ask the organiser of your group to invite {login.email}. The mail has a link that lets you in.
            </p>
          </Empty>
        )}
      </div>
      <div className="stack-s">
        <p className="note">Signed in as {login.email}.</p>
        <div className="acts">
          <Link className="tap" href="/account" prefetch={false}>
            Account and password
          </Link>
          <form action={signOutAction}>
            <button type="submit" className="btn plain">
              Sign out
            </button>
          </form>
        </div>
      </div>
    </PublicFrame>
  )
}
