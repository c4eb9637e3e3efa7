'use client'

import { createContext, type InputHTMLAttributes, type Ref, useContext } from 'react'
import type { FormValues } from '#app/_ui/form/form-state.ts'

/** What a control is given by its form: its name and, in a `HookForm`, what follows it. */
export interface FieldBinding {
  readonly name: string
  readonly ref?: Ref<HTMLInputElement & HTMLSelectElement & HTMLTextAreaElement>
  readonly onChange?: InputHTMLAttributes<Element>['onChange']
  readonly onBlur?: InputHTMLAttributes<Element>['onBlur']
}

export interface FormContextValue {
  readonly idPrefix: string
  readonly isPending: boolean
  /** Counts the answers "done", so that a spent key can be replaced. */
  readonly doneCount: number
  readonly values: FormValues
  readonly errorsOf: (name: string) => readonly string[]
  readonly bind: (name: string) => FieldBinding
}

// Without a form of ours around it a field still works: in a GET form that filters a list, say.
const alone: FormContextValue = {
  idPrefix: 'f',
  isPending: false,
  doneCount: 0,
  values: {},
  errorsOf: () => [],
  bind: (name) => ({ name }),
}

export const FormContext = createContext<FormContextValue>(alone)

export const useFormContextValue = () => useContext(FormContext)

/** The id of a field's control, to which the error summary links. */
export const fieldId = (idPrefix: string, name: string): string => `${idPrefix}-${name}`

export interface FieldHandle {
  readonly id: string
  readonly helpId: string
  readonly errorId: string
  readonly errors: readonly string[]
  /** As posted before or as set at first; undefined where neither was. */
  readonly value: string | string[] | undefined
  readonly binding: FieldBinding
}

/** Everything a field needs to know of the form it stands in. */
export function useField(name: string): FieldHandle {
  const form = useFormContextValue()
  const id = fieldId(form.idPrefix, name)
  return {
    id,
    helpId: `${id}-help`,
    errorId: `${id}-error`,
    errors: form.errorsOf(name),
    value: form.values[name],
    binding: form.bind(name),
  }
}

/** A single text of a value that may be a list. */
export const firstText = (value: string | string[] | undefined): string | undefined =>
  Array.isArray(value) ? value[0] : value

/** All texts of a value. */
export const allTexts = (value: string | string[] | undefined): readonly string[] =>
  value === undefined ? [] : Array.isArray(value) ? value : [value]

/** Names the help and the error of a control for those who hear it. */
export function describedBy(field: FieldHandle, hasHelp: boolean): string | undefined {
  const ids = [hasHelp && field.helpId, field.errors.length > 0 && field.errorId].filter(Boolean)
  return ids.length > 0 ? ids.join(' ') : undefined
}
