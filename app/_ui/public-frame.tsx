import Link from 'next/link'
import type { ReactNode } from 'react'
import { SplitTally } from '#app/_ui/split-tally.tsx'

interface PublicFrameProps {
  readonly group?: { readonly name: string; readonly slug?: string }
  /** A page under a plain top bar, for lists and the calculator. Without it: the gate, one narrow column. */
  readonly wide?: boolean
  /** Somebody who is signed in is shown the way back to their groups instead of to signing in. */
  readonly signedIn?: boolean
  readonly children: ReactNode
}

/** What stands around the pages that anyone may see: sign-in, joining, the landing page, public lists. */
export function PublicFrame({ group, wide = false, signedIn = false, children }: PublicFrameProps) {
  return wide ? (
    <WidePage group={group} signedIn={signedIn}>
      {children}
    </WidePage>
  ) : (
    <Gate group={group}>{children}</Gate>
  )
}

interface PartProps {
  readonly group: PublicFrameProps['group']
  readonly children: ReactNode
}

function WidePage({ group, signedIn, children }: PartProps & { readonly signedIn: boolean }) {
  return (
    <div className="frame">
      <header className="top">
        <Link className="brand" href="/" prefetch={false}>
          <SplitTally />
          Tallywood
        </Link>
        {group && <p className="group">{group.name}</p>}
        <p className="find">
          <Link href={signedIn ? '/g' : '/sign-in'} prefetch={false}>
            {signedIn ? 'Your groups' : 'Sign in'}
          </Link>
        </p>
      </header>
      <main id="main" tabIndex={-1} className="page">
        {children}
      </main>
    </div>
  )
}

function Gate({ group, children }: PartProps) {
  return (
    <main id="main" tabIndex={-1} className="gate">
      <div className="gate-in stack-l">
        <div>
          <p>
            <Link className="brand" href="/" prefetch={false}>
              <SplitTally width={60} />
              Tallywood
            </Link>
          </p>
          {group && <p className="soft">{group.name}</p>}
        </div>
        {children}
      </div>
      <div className="gate-art" aria-hidden="true">
        <svg
          aria-hidden="true"
          viewBox="0 0 300 700"
          preserveAspectRatio="xMinYMax slice"
          width="300"
          height="100%"
        >
          <g className="art">
            <path d="M84 720V196L150 148V720z" />
            <path d="M160 141L212 104V560H160z" />
            <path
              className="gap"
              d="M70 268h160v9H70zM70 306h160v9H70zM70 344h160v9H70zM70 382h160v9H70zM70 440h160v20H70z"
            />
          </g>
        </svg>
        <p className="gate-cap">
          A tally was a stick, notched for what was owed and split in two, so that giver and taker each held
          half of the same count.
        </p>
      </div>
    </main>
  )
}
