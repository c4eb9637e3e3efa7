'use client'

import { type ReactNode, useRef } from 'react'
import { weekday } from '#app/_ui/dates.ts'
import { Field } from '#app/_ui/form/field.tsx'
import { describedBy, firstText, useField } from '#app/_ui/form/form-context.ts'
import { setByHand } from '#app/_ui/form/set-by-hand.ts'
import { useHasScript } from '#app/_ui/form/use-has-script.ts'
import { addDays, type CivilDate } from '#lib/kernel/civil-date.ts'

interface DateFieldProps {
  readonly name: string
  readonly label: ReactNode
  readonly help?: ReactNode
  readonly min?: CivilDate
  readonly max?: CivilDate
  /** Offers today and yesterday at a touch, where script runs. */
  readonly today?: CivilDate
  readonly defaultValue?: CivilDate | undefined
}

/** A day of the calendar, with the control of the browser. */
export function DateField({ name, label, help, min, max, today, defaultValue }: DateFieldProps) {
  const field = useField(name)
  const box = useRef<HTMLDivElement>(null)
  const hasScript = useHasScript()
  const choose = (date: CivilDate) => {
    const input = box.current?.querySelector('input')
    if (input) setByHand(input, date)
  }
  return (
    <Field field={field} label={label} help={help}>
      <div ref={box} className="quick">
        <input
          {...field.binding}
          id={field.id}
          className="in mid"
          type="date"
          min={min}
          max={max}
          defaultValue={firstText(field.value) ?? defaultValue}
          aria-invalid={field.errors.length > 0 || undefined}
          aria-describedby={describedBy(field, Boolean(help))}
        />
        {hasScript && today && (
          <>
            <QuickDay word="Today" date={today} choose={choose} />
            <QuickDay word="Yesterday" date={addDays(today, -1)} choose={choose} />
          </>
        )}
      </div>
    </Field>
  )
}

interface QuickDayProps {
  readonly word: string
  readonly date: CivilDate
  readonly choose: (date: CivilDate) => void
}

function QuickDay({ word, date, choose }: QuickDayProps) {
  return (
    <button type="button" className="btn second small" title={weekday(date)} onClick={() => choose(date)}>
      {word}
    </button>
  )
}
