'use client'

import { type ReactNode, useEffect, useRef, useState } from 'react'
import { firstText, useFormContextValue } from '#app/_ui/form/form-context.ts'

interface LiveTotalProps {
  /** The number fields that are added up. */
  readonly names: readonly string[]
  readonly label: ReactNode
  /** What they must come to. */
  readonly must?: number
}

const asCount = (text: string | undefined) => {
  const value = Number(text ?? 0)
  return Number.isFinite(value) ? value : 0
}

/** The sum of some fields under a double rule. Without script it shows the sum at the last rendering. */
export function LiveTotal({ names, label, must }: LiveTotalProps) {
  const { values } = useFormContextValue()
  const list = useRef<HTMLDListElement>(null)
  const [typed, setTyped] = useState<number | null>(null)

  useEffect(() => {
    const form = list.current?.closest('form')
    if (!form) return
    const add = () => {
      const data = new FormData(form)
      setTyped(names.reduce((sum, name) => sum + asCount(String(data.get(name) ?? '')), 0))
    }
    const afterReset = () => setTimeout(add)
    add()
    form.addEventListener('input', add)
    form.addEventListener('reset', afterReset)
    return () => {
      form.removeEventListener('input', add)
      form.removeEventListener('reset', afterReset)
    }
  }, [names])

  const total = typed ?? names.reduce((sum, name) => sum + asCount(firstText(values[name])), 0)
  return (
    <dl ref={list} className="sum" aria-live="polite">
      <dt className="t">{label}</dt>
      <dd className="t">{must === undefined || must === total ? total : `${total} of ${must}`}</dd>
    </dl>
  )
}
