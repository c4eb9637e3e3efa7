'use client'

import type { ReactNode } from 'react'
import { FieldSet, Wrong } from '#app/_ui/form/field.tsx'
import { allTexts, describedBy, useField } from '#app/_ui/form/form-context.ts'

interface PickGroupProps {
  readonly name: string
  readonly legend: ReactNode
  readonly help?: ReactNode
  readonly options: readonly {
    readonly value: string
    readonly label: ReactNode
    readonly note?: ReactNode
  }[]
  /** Ticks instead of one choice. */
  readonly many?: boolean
  /** Short choices side by side. */
  readonly inRow?: boolean
  readonly defaultValue?: string | readonly string[] | undefined
}

/** A choice, as bordered rows to touch. */
export function PickGroup({
  name,
  legend,
  help,
  options,
  many = false,
  inRow = false,
  defaultValue,
}: PickGroupProps) {
  const field = useField(name)
  const chosen = field.value === undefined ? [defaultValue ?? []].flat() : allTexts(field.value)
  return (
    <FieldSet field={field} legend={legend} help={help}>
      <div className={inRow ? 'picks in-row' : 'picks'}>
        {options.map((option, i) => (
          <label key={option.value} className="pick">
            <input
              {...field.binding}
              // The summary's link leads to the first of them.
              id={i === 0 ? field.id : `${field.id}-${option.value}`}
              type={many ? 'checkbox' : 'radio'}
              value={option.value}
              defaultChecked={chosen.includes(option.value)}
              aria-invalid={(many && field.errors.length > 0) || undefined}
            />
            <span>
              {option.label}
              {option.note && <small>{option.note}</small>}
            </span>
          </label>
        ))}
      </div>
    </FieldSet>
  )
}

interface TickProps {
  readonly name: string
  readonly label: ReactNode
  readonly note?: ReactNode
  readonly value?: string
  readonly defaultChecked?: boolean
}

/** One thing to agree to or to say of something. */
export function Tick({ name, label, note, value = 'yes', defaultChecked = false }: TickProps) {
  const field = useField(name)
  const isOn = field.value === undefined ? defaultChecked : allTexts(field.value).includes(value)
  return (
    <div className={field.errors.length > 0 ? 'field bad' : 'field'}>
      <Wrong field={field} />
      <label className="pick">
        <input
          {...field.binding}
          id={field.id}
          type="checkbox"
          value={value}
          defaultChecked={isOn}
          aria-invalid={field.errors.length > 0 || undefined}
          aria-describedby={describedBy(field, false)}
        />
        <span>
          {label}
          {note && <small>{note}</small>}
        </span>
      </label>
    </div>
  )
}
