'use client'

import type { ReactNode } from 'react'
import { Field } from '#app/_ui/form/field.tsx'
import { describedBy, useField } from '#app/_ui/form/form-context.ts'

interface FileFieldProps {
  readonly name: string
  readonly label: ReactNode
  readonly help?: ReactNode
  /** What the browser offers, such as `.csv,text/csv`. */
  readonly accept?: string
}

/** A file to send. It is never filled in again by a form that comes back. */
export function FileField({ name, label, help, accept }: FileFieldProps) {
  const field = useField(name)
  return (
    <Field field={field} label={label} help={help}>
      <input
        {...field.binding}
        id={field.id}
        className="in"
        type="file"
        accept={accept}
        aria-invalid={field.errors.length > 0 || undefined}
        aria-describedby={describedBy(field, Boolean(help))}
      />
    </Field>
  )
}
