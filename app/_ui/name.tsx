import type { ReactNode } from 'react'
import { formatEpithet } from '#lib/grafting/cultivar-name.ts'

interface VarietyNameProps {
  /** The cultivar epithet without quotes; null where nobody knows it. */
  readonly name: string | null
}

/** A variety's name: in the name face, in single typographic quotes, also inside a table. */
export function VarietyName({ name }: VarietyNameProps) {
  return name === null ? <b>No name</b> : <span className="name">{quoted(name)}</span>
}

/** The same in plain text, for titles and choices that can hold no markup. */
export const quoted = (name: string | null): string => (name === null ? 'No name' : formatEpithet(name))

/** The name a plant is sold under, which is not its variety name: small capitals, no quotes. */
export function SellingName({ children }: { readonly children: ReactNode }) {
  return <span className="selling">{children}</span>
}

/** A botanical name. */
export function LatinName({ children }: { readonly children: ReactNode }) {
  return (
    <i className="latin" lang="la">
      {children}
    </i>
  )
}
