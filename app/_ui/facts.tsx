import type { ReactNode } from 'react'

interface FactsProps {
  /** Term and value; what is empty, false, null or undefined is left out. */
  readonly items: readonly (readonly [term: ReactNode, value: ReactNode] | '' | false | null | undefined)[]
}

/** Short facts, the term at the left. */
export function Facts({ items }: FactsProps) {
  return (
    <dl className="facts">
      {items.map((item, i) =>
        // biome-ignore lint/suspicious/noArrayIndexKey: a fixed list without ids
        item ? <Fact key={i} term={item[0]} value={item[1]} /> : null,
      )}
    </dl>
  )
}

function Fact({ term, value }: { readonly term: ReactNode; readonly value: ReactNode }) {
  return (
    <>
      <dt>{term}</dt>
      <dd>{value}</dd>
    </>
  )
}
