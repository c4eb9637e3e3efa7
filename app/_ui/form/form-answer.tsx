'use client'

import { type ReactNode, useEffect, useRef } from 'react'
import { ErrorSummary } from '#app/_ui/form/error-summary.tsx'
import type { ActionState } from '#app/_ui/form/form-state.ts'
import { Notice } from '#app/_ui/notice.tsx'
import { Refusal } from '#app/_ui/refusal.tsx'

interface FormAnswerProps {
  readonly state: ActionState
  /** Instead of the answer's own errors where the browser checks too. */
  readonly errors?: Readonly<Record<string, readonly string[]>> | undefined
  readonly turn: unknown
  readonly idOf: (name: string) => string
}

/** What the action answered, above the fields of its form. */
export function FormAnswer({ state, errors, turn, idOf }: FormAnswerProps) {
  const shown = errors ?? (state.status === 'invalid' ? state.fieldErrors : {})
  if (Object.keys(shown).length > 0) return <ErrorSummary errors={shown} idOf={idOf} turn={turn} />
  if (state.status === 'refused')
    return (
      <Focused turn={turn}>
        <Refusal message={state.message} next={state.next} />
      </Focused>
    )
  if (state.status === 'done')
    return (
      <Focused turn={turn}>
        <Notice>{state.message}</Notice>
      </Focused>
    )
  return null
}

// The button lies a screen below on a phone: the answer has to come into view by itself.
function Focused({ turn, children }: { readonly turn: unknown; readonly children: ReactNode }) {
  const box = useRef<HTMLDivElement>(null)
  // biome-ignore lint/correctness/useExhaustiveDependencies: each answer of the form takes the focus anew
  useEffect(() => box.current?.focus(), [turn])
  return (
    <div ref={box} tabIndex={-1}>
      {children}
    </div>
  )
}
