'use client'

import { zodResolver } from '@hookform/resolvers/zod'
import {
  type FormEvent,
  type ReactNode,
  startTransition,
  useActionState,
  useEffect,
  useId,
  useRef,
  useState,
} from 'react'
import { type FieldValues, set, useForm } from 'react-hook-form'
import type { z } from 'zod'
import { formTree } from '#app/_actions/form-tree.ts'
import { submittedData } from '#app/_ui/form/action-form.tsx'
import { type FlatErrors, flatErrors } from '#app/_ui/form/flat-errors.ts'
import { FormAnswer } from '#app/_ui/form/form-answer.tsx'
import { FormContext, fieldId } from '#app/_ui/form/form-context.ts'
import { type FormAction, type FormValues, idle } from '#app/_ui/form/form-state.ts'
import { useHasScript } from '#app/_ui/form/use-has-script.ts'

interface HookFormProps {
  readonly action: FormAction
  /** The action's own schema over the posted texts, asked in the browser before anything is sent. */
  readonly schema: z.ZodType<FieldValues, FieldValues>
  readonly values?: FormValues
  readonly id?: string
  readonly className?: string
  readonly label?: string
  readonly children: ReactNode
}

const noValues: FormValues = {}

function unfolded(values: FormValues): FieldValues {
  const tree: FieldValues = {}
  for (const [name, value] of Object.entries(values)) set(tree, name, value)
  return tree
}

/**
 * A long form: checked in the browser by the schema of its action, field by field once it was sent. It posts to
 * the same action without script. A schema cannot cross from the server, so use it in a file that runs on the client.
 */
export function HookForm(props: HookFormProps) {
  const { action, schema, values = noValues, id, className = 'form', label, children } = props
  const [state, dispatch, isPending] = useActionState(action, idle)
  const generated = useId()
  const idPrefix = id ?? generated
  const hasScript = useHasScript()
  const form = useRef<HTMLFormElement>(null)
  const [answer, setAnswer] = useState<{ turn: number; errors: FlatErrors }>({ turn: 0, errors: {} })
  const [doneCount, setDoneCount] = useState(0)
  const current = 'values' in state ? state.values : values

  const { register, handleSubmit, setError, reset, formState } = useForm<FieldValues>({
    defaultValues: unfolded(current),
    // The browser checks what would be posted, read as the server reads it.
    resolver: (_values, context, options) =>
      zodResolver(schema)(
        form.current ? (formTree(new FormData(form.current)) as FieldValues) : {},
        context,
        options,
      ),
    shouldFocusError: false,
  })
  const errors = flatErrors(formState.errors)
  const tell = (found: FlatErrors) => setAnswer(({ turn }) => ({ turn: turn + 1, errors: found }))

  useEffect(() => {
    if (state.status === 'idle') return
    const found = state.status === 'invalid' ? state.fieldErrors : {}
    for (const [name, messages] of Object.entries(found))
      setError(name === '' ? 'root.server' : name, { message: messages.join(' ') })
    setAnswer(({ turn }) => ({ turn: turn + 1, errors: found }))
    if (state.status !== 'done') return
    reset()
    setDoneCount((count) => count + 1)
  }, [state, setError, reset])

  const submit = (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault()
    if (isPending) return
    const data = submittedData(event)
    void handleSubmit(
      () => {
        tell({})
        startTransition(() => dispatch(data))
      },
      (found) => tell(flatErrors(found)),
    )()
  }

  const context = {
    idPrefix,
    isPending,
    doneCount,
    values: current,
    errorsOf: (name: string) =>
      (hasScript ? errors : state.status === 'invalid' ? state.fieldErrors : {})[name] ?? [],
    bind: (name: string) => {
      const { ref, onChange, onBlur } = register(name)
      return { name, ref, onChange, onBlur }
    },
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
      <FormAnswer
        state={state}
        errors={hasScript ? answer.errors : undefined}
        turn={answer.turn}
        idOf={(name) => fieldId(idPrefix, name)}
      />
      <FormContext value={context}>{children}</FormContext>
    </form>
  )
}
