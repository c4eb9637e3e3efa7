import Link from 'next/link'
import type { ReactNode } from 'react'
import { type ButtonLook, buttonClass } from '#app/_ui/button-class.ts'

interface ActionLinkProps extends ButtonLook {
  readonly href: string
  readonly children: ReactNode
}

/** A link that looks like a button: it goes somewhere, it changes nothing. */
export function ActionLink({ href, children, ...look }: ActionLinkProps) {
  return (
    <Link className={buttonClass(look)} href={href} prefetch={false}>
      {children}
    </Link>
  )
}
