import { refresh } from 'next/cache'
import { redirect } from 'next/navigation'
import type { z } from 'zod'
import { fieldErrorsOf } from '#app/_actions/field-errors.ts'
import { formTree } from '#app/_actions/form-tree.ts'
import { type ActionState, type FormAction, formValuesOf } from '#app/_ui/form/form-state.ts'
import type { Actor } from '#lib/access/actor.ts'
import { memberContext } from '#lib/access/context.ts'
import type { Result } from '#lib/kernel/result.ts'
import type { RefusalWords } from '#lib/ledger/refusal-words.ts'
import type { Database } from '#lib/platform/database/database.ts'

/** What follows on success: another page, or a message on the same one. */
export type Done = { readonly to: string } | { readonly message: string }

export interface MemberActionOptions<Schema extends z.ZodType, Value, Refusal> {
  readonly input: Schema
  readonly command: (db: Database, actor: Actor, input: z.output<Schema>) => Promise<Result<Value, Refusal>>
  readonly refusal: (refusal: Refusal) => RefusalWords
  readonly done: (value: Value, group: { readonly slug: string }) => Done
  /** Where a form holds more than texts: what it sent. */
  readonly entries?: (form: FormData) => Promise<unknown>
}

/**
 * A server action around one command: who asks comes from the session and the group from the hidden field
 * `group`, never the person from the form. Bad entries come back at their fields, refusals in words.
 */
export function memberAction<Schema extends z.ZodType, Value, Refusal>(
  options: MemberActionOptions<Schema, Value, Refusal>,
): FormAction {
  return async (_previous: ActionState, form: FormData): Promise<ActionState> => {
    const { db, actor, group } = await memberContext(String(form.get('group') ?? ''))
    const parsed = options.input.safeParse(await (options.entries?.(form) ?? formTree(form)))
    if (!parsed.success) {
      return { status: 'invalid', fieldErrors: fieldErrorsOf(parsed.error), values: formValuesOf(form) }
    }
    const result = await options.command(db, actor, parsed.data)
    if (!result.ok) {
      return { status: 'refused', ...options.refusal(result.refusal), values: formValuesOf(form) }
    }
    const done = options.done(result.value, { slug: group.slug })
    if ('to' in done) redirect(done.to)
    // The page is rendered anew, with what has changed and with a fresh key for the next time.
    refresh()
    return { status: 'done', message: done.message }
  }
}
