import Link from 'next/link'

/** A lot or tree code as it is read out: two halves of three. */
export function displayCode(code: string): string {
  const bare = code.replaceAll('-', '').toUpperCase()
  return bare.length === 6 ? `${bare.slice(0, 3)}-${bare.slice(3)}` : bare
}

interface LotCodeProps {
  readonly code: string
  readonly href?: string
}

/** A code, linked to its lot where a link is given. */
export function LotCode({ code, href }: LotCodeProps) {
  if (!href) return <span className="code">{displayCode(code)}</span>
  return (
    <Link className="code" href={href} prefetch={false}>
      {displayCode(code)}
    </Link>
  )
}
