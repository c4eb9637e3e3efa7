'use server'
import { redirect } from 'next/navigation'
import { fieldErrorsOf } from '#app/_actions/field-errors.ts'
import { formTree } from '#app/_actions/form-tree.ts'
import { type ActionState, formValuesOf } from '#app/_ui/form/form-state.ts'
import { KitInput } from './input.ts'
export async function kitAction(_previous: ActionState, form: FormData): Promise<ActionState> {
  const parsed = KitInput.safeParse(formTree(form))
  await new Promise((r) => setTimeout(r, 300))
  if (!parsed.success) return { status: 'invalid', fieldErrors: fieldErrorsOf(parsed.error), values: formValuesOf(form) }
  if (parsed.data.who === 'greta')
    return { status: 'refused', message: 'That stick has just gone. Idris claimed it at 8.14 pm.', next: ['Wait for one.', 'Ask Callum to split his.'], values: formValuesOf(form) }
  if (parsed.data.who === 'nell') redirect('/kit?moved=1')
  return { status: 'done', message: `Saved ${JSON.stringify(parsed.data)} key ${form.get('key')}` }
}
