'use client'

import { buttonClass } from '#app/_ui/button-class.ts'

interface TroubleProps {
  readonly error: unknown
  readonly retry: () => void
}

const digestOf = (error: unknown): string | null =>
  error instanceof Error && 'digest' in error && typeof error.digest === 'string' ? error.digest : null

/** What stands in place of a page that broke. It needs no data and no group, as either may be what is missing. */
export function Trouble({ error, retry }: TroubleProps) {
  const digest = digestOf(error)
  return (
    <main id="main" tabIndex={-1} className="page">
      <div className="read stack">
        <h1>This page broke</h1>
        <p>
          The fault is ours, and it has been noted. What was saved before is safe. If you had just pressed a
          button, look whether it took effect before you press it again; pressing twice does no harm.
        </p>
        <p className="acts">
          <button type="button" className={buttonClass({ kind: 'first' })} onClick={retry}>
            Try again
          </button>
          <a className={buttonClass({ kind: 'plain' })} href="/">
            Go to the start
          </a>
        </p>
        {digest && (
          <p className="note">
            If it stays broken, tell whoever looks after this site: <span className="code">{digest}</span>
          </p>
        )}
      </div>
    </main>
  )
}
