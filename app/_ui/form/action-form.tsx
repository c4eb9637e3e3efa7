'use client'

import {
  type FormEvent,
  type ReactNode,
  startTransition,
  useActionState,
  useEffect,
  useId,
  useMemo,
  useRef,
  useState,
} from 'react'
import { FormAnswer } from '#app/_ui/form/form-answer.tsx'
import { FormContext, fieldId } from '#app/_ui/form/form-context.ts'
import { type FormAction, type FormValues, idle } from '#app/_ui/form/form-state.ts'

interface ActionFormProps {
  readonly action: FormAction
  /** What the fields hold at first, by name. */
  readonly values?: FormValues
  readonly id?: string
  readonly className?: string
  /** Names the form where the page has several. */
  readonly label?: string
  readonly children: ReactNode
}

const noValues: FormValues = {}

/**
 * A form over a server action. It posts without script too; then the server renders the answer. With script the
 * fields stay as they are until the action is done, and the answer takes the focus.
 */
export function ActionForm({
  action,
  values = noValues,
  id,
  className = 'form',
  label,
  children,
}: ActionFormProps) {
  const [state, dispatch, isPending] = useActionState(action, idle)
  const generated = useId()
  const idPrefix = id ?? generated
  const form = useRef<HTMLFormElement>(null)
  const [doneCount, setDoneCount] = useState(0)

  useEffect(() => {
    if (state.status !== 'done') return
    form.current?.reset()
    setDoneCount((count) => count + 1)
  }, [state])

  const context = useMemo(
    () => ({
      idPrefix,
      isPending,
      doneCount,
      values: 'values' in state ? state.values : values,
      errorsOf: (name: string) => (state.status === 'invalid' ? (state.fieldErrors[name] ?? []) : []),
      bind: (name: string) => ({ name }),
    }),
    [idPrefix, isPending, doneCount, state, values],
  )

  // React empties a form after its action, also when the action refused. Taking the submit over keeps the entries.
  const submit = (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault()
    if (isPending) return
    const data = submittedData(event)
    startTransition(() => dispatch(data))
  }

  return (
    <form
      ref={form}
      id={id}
      className={className}
      aria-label={label}
      action={dispatch}
      onSubmit={submit}
      noValidate
    >
      <FormAnswer state={state} turn={state} idOf={(name) => fieldId(idPrefix, name)} />
      <FormContext value={context}>{children}</FormContext>
    </form>
  )
}

/** The data of a submit with the name and value of the button that was pressed. */
export function submittedData(event: FormEvent<HTMLFormElement>): FormData {
  const data = new FormData(event.currentTarget)
  const native = event.nativeEvent
  const button = native instanceof SubmitEvent ? native.submitter : null
  if (button instanceof HTMLButtonElement && button.name) data.append(button.name, button.value)
  return data
}
