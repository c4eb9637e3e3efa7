import type { ReactNode } from 'react'
import { Frame, type Place } from '#app/_ui/frame.tsx'
import { signOutAction } from '#app/(public)/sign-in/actions.ts'
import type { MemberContext } from '#lib/access/context.ts'

interface GroupPageProps {
  readonly context: MemberContext
  readonly current: Place
  /** Swap day: big type, no index. */
  readonly bare?: boolean
  readonly children: ReactNode
}

/** The frame of every page of a group, with who is signed in and the way out. */
export function GroupPage({ context, current, bare = false, children }: GroupPageProps) {
  const { group, person } = context
  return (
    <Frame
      group={{ slug: group.slug, name: group.name, season: group.season }}
      current={current}
      person={{ name: person.displayName, role: person.role }}
      bare={bare}
      foot={
        <form action={signOutAction}>
          <button type="submit" className="btn plain">
            Sign out
          </button>
        </form>
      }
    >
      {children}
    </Frame>
  )
}
