'use client'

import type { ReactNode } from 'react'
import { Field } from '#app/_ui/form/field.tsx'
import { describedBy, firstText, useField } from '#app/_ui/form/form-context.ts'

interface TextAreaProps {
  readonly name: string
  readonly label: ReactNode
  readonly help?: ReactNode
  readonly rows?: number
  readonly maxLength?: number
  readonly defaultValue?: string | undefined
}

/** Several lines of text. */
export function TextArea({ name, label, help, rows = 3, maxLength, defaultValue }: TextAreaProps) {
  const field = useField(name)
  return (
    <Field field={field} label={label} help={help}>
      <textarea
        {...field.binding}
        id={field.id}
        className="in"
        rows={rows}
        maxLength={maxLength}
        defaultValue={firstText(field.value) ?? defaultValue}
        aria-invalid={field.errors.length > 0 || undefined}
        aria-describedby={describedBy(field, Boolean(help))}
      />
    </Field>
  )
}
