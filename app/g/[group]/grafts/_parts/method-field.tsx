import { SelectField } from '#app/_ui/form/select-field.tsx'
import { methods } from '#lib/grafting/methods.ts'

const groups = { graft: 'Grafts and buds', cutting: 'Cuttings', layer: 'Layers' } as const

/** The methods, grafts, cuttings and layers apart. */
export const methodOptions = methods.map(({ key, name, kind }) => ({
  value: key,
  label: name,
  group: groups[kind],
}))

/** How it was done. */
export function MethodField() {
  return <SelectField name="method" label="How it was done" empty="Choose a method" options={methodOptions} />
}
