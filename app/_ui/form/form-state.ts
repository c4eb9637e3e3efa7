/** The posted texts by field name, so that a form that failed comes back as it was filled in. */
export type FormValues = Record<string, string | string[]>

/** What a server action answers. Errors are keyed by the dotted path of the field: `lots.0.sticks`; '' is the form. */
export type ActionState =
  | { readonly status: 'idle' }
  | {
      readonly status: 'invalid'
      readonly fieldErrors: Record<string, string[]>
      readonly values: FormValues
    }
  | {
      readonly status: 'refused'
      readonly message: string
      readonly next: readonly string[]
      readonly values: FormValues
    }
  | { readonly status: 'done'; readonly message: string }

export const idle: ActionState = { status: 'idle' }

/** A server action as `ActionForm` and `HookForm` call it. */
export type FormAction = (previous: ActionState, formData: FormData) => Promise<ActionState>

/** The posted texts of a form, without files and without the fields that React adds; repeated names become lists. */
export function formValuesOf(formData: FormData): FormValues {
  const values: FormValues = {}
  for (const [name, value] of formData) {
    if (name.startsWith('$ACTION') || typeof value !== 'string') continue
    const earlier = values[name]
    if (earlier === undefined) values[name] = value
    else values[name] = Array.isArray(earlier) ? [...earlier, value] : [earlier, value]
  }
  return values
}
