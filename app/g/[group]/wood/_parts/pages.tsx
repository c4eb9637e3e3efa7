import { ActionLink } from '#app/_ui/action-link.tsx'

interface PagesProps {
  readonly page: number
  readonly pages: number
  readonly href: (page: number) => string
}

/** Where one is in a long list, and the way on. */
export function Pages({ page, pages, href }: PagesProps) {
  if (pages === 1) return null
  return (
    <nav className="acts" aria-label="Pages">
      {page > 1 && <ActionLink href={href(page - 1)}>Earlier page</ActionLink>}
      {page < pages && <ActionLink href={href(page + 1)}>Next page</ActionLink>}
      <span className="soft">
        Page {page} of {pages}
      </span>
    </nav>
  )
}
