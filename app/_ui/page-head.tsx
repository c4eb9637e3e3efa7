import Link from 'next/link'
import type { ReactNode } from 'react'

interface PageHeadProps {
  readonly title: ReactNode
  /** The page one step up. */
  readonly crumb?: { readonly href: string; readonly label: ReactNode }
  /** One quiet line of facts. */
  readonly meta?: ReactNode
  /** The sentence to remember. */
  readonly lead?: ReactNode
  /** Buttons, beside the heading where there is room. */
  readonly acts?: ReactNode
}

/** The head of a page: where it hangs, its one `h1`, what it is about. */
export function PageHead({ title, crumb, meta, lead, acts }: PageHeadProps) {
  const words = (
    <>
      {crumb && (
        <p className="crumb">
          <Link href={crumb.href} prefetch={false}>
            {crumb.label}
          </Link>
        </p>
      )}
      <h1>{title}</h1>
      {meta && <p className="meta">{meta}</p>}
      {lead && <p className="lead">{lead}</p>}
    </>
  )
  if (!acts) return <div className="head">{words}</div>
  return (
    <div className="head sec-head">
      <div>{words}</div>
      <div className="acts">{acts}</div>
    </div>
  )
}
