import type { z } from 'zod'

/** The messages of a failed parse by the dotted name of their field; '' is the form itself. */
export function fieldErrorsOf(error: z.ZodError): Record<string, string[]> {
  const errors: Record<string, string[]> = {}
  for (const issue of error.issues) {
    const name = issue.path.map(String).join('.')
    errors[name] = [...(errors[name] ?? []), issue.message]
  }
  return errors
}
