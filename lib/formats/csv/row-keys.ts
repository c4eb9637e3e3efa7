import { createHash } from 'node:crypto'

/** A UUID version 8 (RFC 9562 §5.8) made of SHA-256: the same parts give the same one. */
export function hashKey(parts: readonly (string | Uint8Array)[]): string {
  const hash = createHash('sha256')
  for (const part of parts) hash.update(part).update('\u0000')
  const hex = hash.digest('hex').slice(0, 32).split('')
  hex[12] = '8'
  hex[16] = '8'
  const text = hex.join('')
  return [text.slice(0, 8), text.slice(8, 12), text.slice(12, 16), text.slice(16, 20), text.slice(20)].join(
    '-',
  )
}

/**
 * A key for each entry of a file, made of what it says and, for entries that say the same, of which of them it
 * is: the first, the second, and so on.
 */
export function entryKeys(kind: string, entries: readonly (readonly string[])[]): readonly string[] {
  const seen = new Map<string, number>()
  return entries.map((entry) => {
    const said = JSON.stringify(entry)
    const nth = (seen.get(said) ?? 0) + 1
    seen.set(said, nth)
    return hashKey(['import-row', kind, said, String(nth)])
  })
}
