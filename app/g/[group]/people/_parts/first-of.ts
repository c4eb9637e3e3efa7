/** The first value of a name in the address, trimmed; empty when it is not there. */
export const firstOf = (value: string | string[] | undefined): string =>
  (Array.isArray(value) ? (value[0] ?? '') : (value ?? '')).trim()
