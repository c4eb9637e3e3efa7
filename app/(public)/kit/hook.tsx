'use client'
import { HookForm } from '#app/_ui/form/hook-form.tsx'
import { OnceKey } from '#app/_ui/form/once-key.tsx'
import { Fields } from './fields.tsx'
import { KitInput } from './input.ts'
import { kitAction } from './actions.ts'
export function Hook({ k }: { k: string }) {
  return <HookForm action={kitAction} schema={KitInput} label="Hook" id="hook" values={{ on: '2027-02-04', 'lots.0.sticks': '18', wet: 'dry' }}><OnceKey value={k} /><Fields /></HookForm>
}
