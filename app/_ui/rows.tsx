import type { ReactNode } from 'react'

interface RowsProps {
  readonly ordered?: boolean
  /** `li` elements. */
  readonly children: ReactNode
}

/** A ruled list. */
export function Rows({ ordered = false, children }: RowsProps) {
  return ordered ? <ol className="rows">{children}</ol> : <ul className="rows">{children}</ul>
}

/** The ruled list of things to do: `NeedsRow`s, the most pressing first. */
export function NeedsRows({ children }: { readonly children: ReactNode }) {
  return <ol className="rows needs">{children}</ol>
}

interface NeedsRowProps {
  /** "Today", "By Sun 7 Feb", "Since Tue 2 Feb". */
  readonly when: ReactNode
  readonly late?: boolean
  readonly action?: ReactNode
  readonly children: ReactNode
}

/** One thing to do: when, what, and the button for it. */
export function NeedsRow({ when, late = false, action, children }: NeedsRowProps) {
  return (
    <li>
      <p className={late ? 'when late' : 'when'}>{when}</p>
      <div className="stack-s">{children}</div>
      {action && <div className="do">{action}</div>}
    </li>
  )
}
