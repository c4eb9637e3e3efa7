'use client'

import type {
  HTMLInputAutoCompleteAttribute,
  HTMLInputTypeAttribute,
  InputHTMLAttributes,
  ReactNode,
} from 'react'
import { Field } from '#app/_ui/form/field.tsx'
import { describedBy, firstText, useField } from '#app/_ui/form/form-context.ts'

interface TextFieldProps {
  readonly name: string
  readonly label: ReactNode
  readonly help?: ReactNode
  readonly type?: Extract<
    HTMLInputTypeAttribute,
    'text' | 'email' | 'password' | 'tel' | 'url' | 'search' | 'time'
  >
  readonly width?: 'short' | 'mid' | 'full'
  /** In the face of the codes, larger, without the browser's corrections. */
  readonly code?: boolean
  readonly autoComplete?: HTMLInputAutoCompleteAttribute
  readonly inputMode?: InputHTMLAttributes<HTMLInputElement>['inputMode']
  readonly maxLength?: number
  /** Offered while typing; anything else may be typed. */
  readonly list?: readonly string[]
  readonly required?: boolean
  /** Outside an `ActionForm`; inside one the form's values stand. */
  readonly defaultValue?: string | undefined
}

const asCode = { autoCapitalize: 'characters', autoCorrect: 'off', spellCheck: false } as const

/** One line of text. */
export function TextField({
  name,
  label,
  help,
  type = 'text',
  width = 'full',
  code = false,
  list,
  defaultValue,
  ...rest
}: TextFieldProps) {
  const field = useField(name)
  const listId = `${field.id}-list`
  const classes = ['in', width !== 'full' && width, code && 'code'].filter(Boolean).join(' ')
  return (
    <Field field={field} label={label} help={help}>
      <input
        {...field.binding}
        {...rest}
        {...(code ? asCode : {})}
        id={field.id}
        className={classes}
        type={type}
        // A password that was typed is never sent back.
        defaultValue={type === 'password' ? undefined : (firstText(field.value) ?? defaultValue)}
        list={list ? listId : undefined}
        aria-invalid={field.errors.length > 0 || undefined}
        aria-describedby={describedBy(field, Boolean(help))}
      />
      {list && (
        <datalist id={listId}>
          {list.map((choice) => (
            <option key={choice} value={choice} />
          ))}
        </datalist>
      )}
    </Field>
  )
}
