'use client'

import { type ReactNode, useRef } from 'react'
import { Field } from '#app/_ui/form/field.tsx'
import { describedBy, firstText, useField } from '#app/_ui/form/form-context.ts'
import { setByHand } from '#app/_ui/form/set-by-hand.ts'
import { useHasScript } from '#app/_ui/form/use-has-script.ts'

interface NumberFieldProps {
  readonly name: string
  readonly label: ReactNode
  readonly help?: ReactNode
  readonly min?: number
  readonly max?: number
  readonly step?: number
  /** A measured number with a decimal point, typed and never stepped. */
  readonly decimal?: boolean
  /** Buttons for one fewer and one more; they need script and come with it. */
  readonly stepper?: boolean
  readonly inLine?: boolean
  readonly defaultValue?: number | string | undefined
}

/** A count, or with `decimal` a measured number. */
export function NumberField({
  name,
  label,
  help,
  min = 0,
  max = Number.POSITIVE_INFINITY,
  step = 1,
  decimal = false,
  stepper = !decimal,
  inLine = false,
  defaultValue,
}: NumberFieldProps) {
  const field = useField(name)
  const box = useRef<HTMLSpanElement>(null)
  const hasButtons = useHasScript() && stepper
  const of = typeof label === 'string' ? `, ${label}` : ''
  const move = (by: number) => {
    const input = box.current?.querySelector('input')
    if (!input) return
    const now = Number(input.value.trim() === '' ? 0 : input.value)
    setByHand(input, String(Math.min(max, Math.max(min, (Number.isFinite(now) ? now : 0) + by))))
  }
  const control = (
    <input
      {...field.binding}
      id={field.id}
      className={hasButtons ? undefined : 'in short'}
      type="text"
      inputMode={decimal ? 'decimal' : 'numeric'}
      autoComplete="off"
      defaultValue={firstText(field.value) ?? defaultValue}
      aria-invalid={field.errors.length > 0 || undefined}
      aria-describedby={describedBy(field, Boolean(help))}
    />
  )
  return (
    <Field field={field} label={label} help={help} inLine={inLine}>
      <span ref={box} className={hasButtons ? 'step' : 'step plain-step'}>
        {hasButtons && <StepButton label={`One fewer${of}`} sign="−" press={() => move(-step)} />}
        {control}
        {hasButtons && <StepButton label={`One more${of}`} sign="+" press={() => move(step)} />}
      </span>
    </Field>
  )
}

interface StepButtonProps {
  readonly label: string
  readonly sign: string
  readonly press: () => void
}

function StepButton({ label, sign, press }: StepButtonProps) {
  return (
    <button type="button" aria-label={label} onClick={press}>
      {sign}
    </button>
  )
}
