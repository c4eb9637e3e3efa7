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
      <h3>{title}</h3>
      {typeof children === 'string' ? <p>{children}</p> : children}
      {action && <div className="acts">{action}</div>}
    </div>
  )
}
