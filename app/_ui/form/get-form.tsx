'use client'

import { type ReactNode, useId, useMemo } from 'react'
import { ErrorSummary } from '#app/_ui/form/error-summary.tsx'
import { FormContext, fieldId } from '#app/_ui/form/form-context.ts'
import type { FormValues } from '#app/_ui/form/form-state.ts'

interface GetFormProps {
  readonly action: string
  /** What the address says, by field. */
  readonly values: FormValues
  /** What is wrong with it, by field; '' is the form itself. */
  readonly errors: Readonly<Record<string, readonly string[]>>
  readonly id?: string
  readonly label?: string
  readonly children: ReactNode
}

/** A form that asks by its address: what was asked and what is wrong with it come back from the server. */
export function GetForm({ action, values, errors, id, label, children }: GetFormProps) {
  const generated = useId()
  const idPrefix = id ?? generated
  const context = useMemo(
    () => ({
      idPrefix,
      isPending: false,
      doneCount: 0,
      values,
      errorsOf: (name: string) => errors[name] ?? [],
      bind: (name: string) => ({ name }),
    }),
    [idPrefix, values, errors],
  )
  return (
    <form id={id} method="get" action={action} className="form" aria-label={label} noValidate>
      <ErrorSummary errors={errors} idOf={(name) => fieldId(idPrefix, name)} turn={errors} />
      <FormContext value={context}>{children}</FormContext>
    </form>
  )
}
