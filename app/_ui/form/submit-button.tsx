'use client'

import type { MouseEvent, ReactNode } from 'react'
import { useFormStatus } from 'react-dom'
import { type ButtonKind, buttonClass } from '#app/_ui/button-class.ts'
import { useFormContextValue } from '#app/_ui/form/form-context.ts'

interface SubmitButtonProps {
  readonly children: ReactNode
  /** Said while it works. */
  readonly pending?: ReactNode
  readonly kind?: ButtonKind
  readonly small?: boolean
  readonly block?: boolean
  readonly glove?: boolean
  /** Sent with the form, where a form has several buttons. */
  readonly name?: string
  readonly value?: string
}

/** The button of a form. While the form is under way it says so, keeps the focus and takes no second press. */
export function SubmitButton({
  children,
  pending = 'Saving…',
  kind = 'first',
  small,
  block,
  glove,
  name,
  value,
}: SubmitButtonProps) {
  const status = useFormStatus()
  const form = useFormContextValue()
  const isBusy = status.pending || form.isPending
  const ignoreWhileBusy = (event: MouseEvent) => {
    if (isBusy) event.preventDefault()
  }
  return (
    <button
      type="submit"
      className={buttonClass({ kind, small, block, glove })}
      name={name}
      value={value}
      aria-disabled={isBusy || undefined}
      onClick={ignoreWhileBusy}
    >
      {isBusy ? pending : children}
    </button>
  )
}
