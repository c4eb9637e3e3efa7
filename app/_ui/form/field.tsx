'use client'

import type { ReactNode } from 'react'
import { type FieldHandle, useField } from '#app/_ui/form/form-context.ts'

interface FieldProps {
  readonly field: FieldHandle
  readonly label: ReactNode
  readonly help?: ReactNode
  /** Label at the left, control at the right: for a column of small counts. */
  readonly inLine?: boolean
  readonly children: ReactNode
}

/** A label, what helps to fill it in, what is wrong with it, and the control, in this order. */
export function Field({ field, label, help, inLine = false, children }: FieldProps) {
  return (
    <div className={fieldClass(field, inLine)}>
      <label htmlFor={field.id}>{label}</label>
      {help && (
        <span className="help" id={field.helpId}>
          {help}
        </span>
      )}
      <Wrong field={field} />
      {children}
    </div>
  )
}

const fieldClass = (field: FieldHandle, inLine: boolean) =>
  ['field', field.errors.length > 0 && 'bad', inLine && 'in-line'].filter(Boolean).join(' ')

interface FieldSetProps {
  readonly field: FieldHandle
  readonly legend: ReactNode
  readonly help?: ReactNode
  readonly children: ReactNode
}

/** The same for a question with several controls. */
export function FieldSet({ field, legend, help, children }: FieldSetProps) {
  const described = [help && field.helpId, field.errors.length > 0 && field.errorId].filter(Boolean).join(' ')
  return (
    <fieldset className={fieldClass(field, false)} aria-describedby={described || undefined}>
      <legend>{legend}</legend>
      {help && (
        <span className="help" id={field.helpId}>
          {help}
        </span>
      )}
      <Wrong field={field} />
      {children}
    </fieldset>
  )
}

/** What is wrong with a field, in the words of the summary. */
export function Wrong({ field }: { readonly field: FieldHandle }) {
  if (field.errors.length === 0) return null
  return (
    <span className="err" id={field.errorId}>
      {field.errors.join(' ')}
    </span>
  )
}

/** Errors that belong to no single control, such as those of a whole list: `<FieldErrors name="lots" />`. */
export function FieldErrors({ name }: { readonly name: string }) {
  const field = useField(name)
  if (field.errors.length === 0) return null
  return (
    <p className="field bad" id={field.id} tabIndex={-1}>
      <Wrong field={field} />
    </p>
  )
}
