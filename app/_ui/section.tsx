import type { ReactNode } from 'react'

interface SectionProps {
  readonly title: ReactNode
  /** Unique on the page; names the section and can be linked to. */
  readonly id: string
  /** A link or a short word at the right of the heading. */
  readonly aside?: ReactNode
  readonly level?: 2 | 3
  readonly children: ReactNode
}

/** A part of a page under an ink rule, named by its heading. */
export function Section({ title, id, aside, level = 2, children }: SectionProps) {
  const Heading = level === 2 ? 'h2' : 'h3'
  const heading = <Heading id={id}>{title}</Heading>
  return (
    <section className="sec" aria-labelledby={id}>
      {aside ? (
        <div className="sec-head">
          {heading}
          {aside}
        </div>
      ) : (
        heading
      )}
      {children}
    </section>
  )
}

interface ColumnsProps {
  /** How wide the left one is: 1.9 to 1, the same, or 2.4 to 1. */
  readonly kind?: 'main' | 'even' | 'wide-left'
  readonly children: ReactNode
}

/** Two columns on a desk, one on a phone. */
export function Columns({ kind = 'main', children }: ColumnsProps) {
  return <div className={kind === 'main' ? 'cols' : `cols ${kind}`}>{children}</div>
}
