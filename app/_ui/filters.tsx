import Link from 'next/link'
import type { ReactNode } from 'react'

interface FiltersProps {
  /** Names the row of links for those who hear it: "Show", "Order by". */
  readonly label: string
  readonly items: readonly {
    readonly href: string
    readonly label: ReactNode
    readonly count?: number
    readonly current?: boolean
  }[]
}

/** A row of links that narrow or order the list below. */
export function Filters({ label, items }: FiltersProps) {
  return (
    <nav className="filters" aria-label={label}>
      {items.map((item) => (
        <Link
          key={item.href}
          href={item.href}
          prefetch={false}
          aria-current={item.current ? 'true' : undefined}
        >
          {item.label}
          {item.count !== undefined && ` ${item.count}`}
        </Link>
      ))}
    </nav>
  )
}
