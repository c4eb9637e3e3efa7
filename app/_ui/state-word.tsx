import type { ReactNode } from 'react'
import type { KeepingWindow } from '#app/_ui/keeping-window.ts'
import type { CivilDate } from '#lib/kernel/civil-date.ts'
import { windowState } from '#lib/viability/window-state.ts'

export type StateKind = 'good' | 'soon' | 'test' | 'past' | 'hold' | 'info'

const marks: Record<StateKind, ReactNode> = {
  good: <rect className="f" x="0" y="1" width="12" height="10" />,
  soon: (
    <>
      <path className="f" d="M0 1h12L0 11z" />
      <rect className="o" x=".8" y="1.8" width="10.4" height="8.4" />
    </>
  ),
  test: <rect className="o" x=".8" y="1.8" width="10.4" height="8.4" strokeDasharray="2.4 2" />,
  past: <path className="o" d="M1 6h10" />,
  hold: <path className="o" d="M1 1l10 10M11 1L1 11" strokeWidth="2.4" />,
  info: <circle className="o" cx="6" cy="6" r="4.6" />,
}

const words: Record<StateKind, string> = {
  good: 'Good',
  soon: 'Use soon',
  test: 'Test first',
  past: 'Past, test first',
  hold: 'On hold',
  info: 'For information',
}

interface StateWordProps {
  readonly kind: StateKind
  /** The word; the usual one for the kind if left out. */
  readonly children?: ReactNode
}

/** A state: its mark and its word, never one without the other. */
export function StateWord({ kind, children = words[kind] }: StateWordProps) {
  return (
    <span className={`st ${kind}`}>
      <svg viewBox="0 0 12 12" aria-hidden="true" focusable="false">
        {marks[kind]}
      </svg>
      {children}
    </span>
  )
}

interface KeepingStateProps {
  readonly window: KeepingWindow
  readonly today: CivilDate
  /** A health hold stands before anything the window says. */
  readonly held?: boolean
}

/** How wood stands today. */
export function KeepingState({ window, today, held = false }: KeepingStateProps) {
  return <StateWord kind={held ? 'hold' : windowState(window, today)} />
}
