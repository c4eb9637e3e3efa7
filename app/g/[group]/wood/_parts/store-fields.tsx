import { NumberField } from '#app/_ui/form/number-field.tsx'
import { SelectField } from '#app/_ui/form/select-field.tsx'
import { TextField } from '#app/_ui/form/text-field.tsx'
import type { TemperatureUnit } from '#app/_ui/measures.ts'
import { wordOptions } from '#app/g/[group]/wood/_parts/choices.ts'
import type { MemberChoice } from '#lib/people/view.ts'
import { storeKinds } from '#lib/wood/words.ts'

interface StoreFieldsProps {
  readonly unit: TemperatureUnit
  /** Who may be named as the keeper; a member keeps their own. */
  readonly keepers: readonly MemberChoice[]
  readonly mayLeaveKeeper: boolean
}

/** What is known of a store. */
export function StoreFields({ unit, keepers, mayLeaveKeeper }: StoreFieldsProps) {
  return (
    <>
      <TextField name="name" label="Name" help="As people know it: “Group fridge, shelf 2”." maxLength={60} />
      <SelectField name="kind" label="Kind of place" options={wordOptions(storeKinds)} />
      <SelectField
        name="keeperId"
        label="Kept by"
        options={keepers.map(({ id, name }) => ({ value: id, label: name }))}
        {...(mayLeaveKeeper ? { empty: 'Nobody in particular' } : {})}
      />
      <NumberField
        name="typedCelsius"
        label={`Usual temperature, °${unit}`}
        help="As read off a thermometer inside. Leave empty if nobody has looked: a range is then assumed, and the windows are wider."
        decimal
      />
    </>
  )
}
