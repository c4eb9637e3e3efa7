import type { ReactNode } from 'react'

interface LadderProps {
  readonly steps: readonly {
    readonly state: 'done' | 'due' | 'late' | 'next'
    readonly title: string
    readonly note: ReactNode
  }[]
}

/** The checks of an attempt in their order: those done, the one due, those to come. */
export function Ladder({ steps }: LadderProps) {
  return (
    <ol className="ladder">
      {steps.map((step) => (
        <li key={step.title} className={step.state}>
          <b>{step.title}</b>
          {step.note}
        </li>
      ))}
    </ol>
  )
}
