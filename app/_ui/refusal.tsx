import type { ReactNode } from 'react'

export type NextStep = string | { readonly href: string; readonly label: string }

interface RefusalProps {
  /** "That stick has just gone." */
  readonly title?: ReactNode
  /** What happened, and when. */
  readonly message: ReactNode
  /** What can be done now; links where there is a place to go. */
  readonly next: readonly NextStep[]
}

/** A refusal: what happened and the next things to do, without an apology. */
export function Refusal({ title, message, next }: RefusalProps) {
  return (
    <div className="errors" role="alert">
      {title && <h2>{title}</h2>}
      <p className={title ? undefined : 'refused'}>{message}</p>
      {next.length > 0 && (
        <ul>
          {next.map((step) =>
            typeof step === 'string' ? (
              <li key={step}>{step}</li>
            ) : (
              <li key={step.href}>
                <a href={step.href}>{step.label}</a>
              </li>
            ),
          )}
        </ul>
      )}
    </div>
  )
}
