'use client'

import type { ReactNode } from 'react'
import { Field } from '#app/_ui/form/field.tsx'
import { describedBy, firstText, useField } from '#app/_ui/form/form-context.ts'

interface Choice {
  readonly value: string
  readonly label: string
  /** Choices of one group stand together under its name. */
  readonly group?: string
}

interface SelectFieldProps {
  readonly name: string
  readonly label: ReactNode
  readonly help?: ReactNode
  readonly options: readonly Choice[]
  /** The first, empty choice: "Choose a store". */
  readonly empty?: string
  readonly width?: 'short' | 'mid' | 'full'
  readonly defaultValue?: string | undefined
}

/** One of a list. */
export function SelectField({
  name,
  label,
  help,
  options,
  empty,
  width = 'full',
  defaultValue,
}: SelectFieldProps) {
  const field = useField(name)
  const groups = [...new Set(options.map((option) => option.group))]
  return (
    <Field field={field} label={label} help={help}>
      <select
        {...field.binding}
        id={field.id}
        className={width === 'full' ? 'in' : `in ${width}`}
        defaultValue={firstText(field.value) ?? defaultValue ?? (empty === undefined ? undefined : '')}
        aria-invalid={field.errors.length > 0 || undefined}
        aria-describedby={describedBy(field, Boolean(help))}
      >
        {empty !== undefined && <option value="">{empty}</option>}
        {groups.map((group) => {
          const choices = options
            .filter((option) => option.group === group)
            .map((option) => (
              <option key={option.value} value={option.value}>
                {option.label}
              </option>
            ))
          return group === undefined ? (
            choices
          ) : (
            <optgroup key={group} label={group}>
              {choices}
            </optgroup>
          )
        })}
      </select>
    </Field>
  )
}
