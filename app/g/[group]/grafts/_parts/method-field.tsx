import { SelectField } from '#app/_ui/form/select-field.tsx'
import { methods } from '#lib/grafting/methods.ts'

const groups = { graft: 'Grafts and buds', cutting: 'Cuttings', layer: 'Layers' } as const

/** How it was done, grafts, cuttings and layers apart. */
export function MethodField() {
  return (
    <SelectField
      name="method"
      label="How it was done"
      empty="Choose a method"
      options={methods.map(({ key, name, kind }) => ({ value: key, label: name, group: groups[kind] }))}
    />
  )
}
