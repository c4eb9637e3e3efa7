'use client'

import { useEffect, useId, useRef } from 'react'
import { numeral } from '#app/_ui/measures.ts'

interface ErrorSummaryProps {
  /** By field; '' is the form itself. */
  readonly errors: Readonly<Record<string, readonly string[]>>
  readonly idOf: (name: string) => string
  /** Changes with every answer, so that the summary takes the focus each time. */
  readonly turn?: unknown
}

const heading = (count: number) =>
  count === 1 ? 'One thing to put right' : `${numeral(count)} things to put right`

/** What stands in the way, each a link to its field; takes the focus when it appears. */
export function ErrorSummary({ errors, idOf, turn }: ErrorSummaryProps) {
  const box = useRef<HTMLDivElement>(null)
  const headingId = useId()
  // biome-ignore lint/correctness/useExhaustiveDependencies: each answer of the form takes the focus anew
  useEffect(() => box.current?.focus(), [turn])
  const lines = Object.entries(errors).flatMap(([name, messages]) =>
    messages.map((message) => ({ name, message })),
  )
  if (lines.length === 0) return null
  return (
    <div ref={box} className="errors" role="alert" aria-labelledby={headingId} tabIndex={-1}>
      <h2 id={headingId}>{heading(lines.length)}</h2>
      <ul>
        {lines.map(({ name, message }) => (
          <li key={`${name} ${message}`}>
            {name === '' ? message : <a href={`#${idOf(name)}`}>{message}</a>}
          </li>
        ))}
      </ul>
    </div>
  )
}
