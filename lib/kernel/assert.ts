/** Ends a `switch` over a union: a kind that nobody handled is a type error here, and a defect at run time. */
export function assertNever(unexpected: never): never {
  throw new Error(`Unhandled case: ${JSON.stringify(unexpected)}`)
}

/** The value, or a thrown defect when it is missing. For what the surrounding code has already made sure of. */
export function required<T>(value: T | null | undefined, what: string): T {
  if (value === null || value === undefined) throw new Error(`Missing: ${what}`)
  return value
}
