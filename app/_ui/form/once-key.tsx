'use client'

import { useEffect, useState } from 'react'
import { useFormContextValue } from '#app/_ui/form/form-context.ts'

interface OnceKeyProps {
  /** A fresh UUID from the server with every rendering. */
  readonly value: string
  readonly name?: string
}

// crypto.randomUUID is missing on plain http, as in a hall without a certificate; this is the same version 4 UUID.
function freshKey(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(16))
  bytes[6] = ((bytes[6] ?? 0) & 0x0f) | 0x40
  bytes[8] = ((bytes[8] ?? 0) & 0x3f) | 0x80
  const hex = Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('')
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join('-')
}

/** The key that makes a second click harmless. Once the form was done it is replaced, so the next entry counts. */
export function OnceKey({ value, name = 'key' }: OnceKeyProps) {
  const { doneCount } = useFormContextValue()
  const [key, setKey] = useState(value)
  useEffect(() => setKey(doneCount === 0 ? value : freshKey()), [doneCount, value])
  return <input type="hidden" name={name} value={key} />
}
