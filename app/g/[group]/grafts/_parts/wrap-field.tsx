import { SelectField } from '#app/_ui/form/select-field.tsx'
import { wraps } from '#lib/grafting/care-schedule.ts'

/** What holds it: from this come the days on which the tie is looked at and released. */
export function WrapField() {
  return (
    <SelectField
      name="wrap"
      label="What holds it"
      help="String and nylon do not give: they are asked about until they are off."
      empty="Not said"
      options={wraps
        .filter(({ key }) => key !== 'unknown')
        .map(({ key, name }) => ({ value: key, label: name }))}
    />
  )
}
