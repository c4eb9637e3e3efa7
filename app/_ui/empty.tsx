import type { ReactNode } from 'react'

interface EmptyProps {
  /** What is missing: "No wood logged this season". */
  readonly title: ReactNode
  /** When it usually comes, and what to do meanwhile. */
  readonly children: ReactNode
  readonly action?: ReactNode
}

/** Where there is nothing yet. */
export function Empty({ title, children, action }: EmptyProps) {
  return (
    <div className="empty">
      {/* No heading: it stands under any, and an outline with a gap helps nobody. */}
      <p className="font-name text-h3">{title}</p>
      {typeof children === 'string' ? <p>{children}</p> : children}
      {action && <div className="acts">{action}</div>}
    </div>
  )
}
