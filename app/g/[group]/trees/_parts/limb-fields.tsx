import { DateField } from '#app/_ui/form/date-field.tsx'
import { Hidden } from '#app/_ui/form/hidden.tsx'
import { NumberField } from '#app/_ui/form/number-field.tsx'
import { PickGroup } from '#app/_ui/form/pick-group.tsx'
import { SelectField } from '#app/_ui/form/select-field.tsx'
import { TextField } from '#app/_ui/form/text-field.tsx'
import type { CivilDate } from '#lib/kernel/civil-date.ts'
import { identityGrades, identityMeanings, identityWords } from '#lib/trees/identity.ts'
import type { VarietyChoice } from '#lib/varieties/view.ts'

const inCapitals = (text: string) => text.charAt(0).toUpperCase() + text.slice(1)

const origins = [
  { value: 'own', label: 'The tree’s own', note: 'Planted with it; the first limb of a young tree.' },
  { value: 'grafted', label: 'Grafted on', note: 'By somebody, at some time.' },
  { value: 'unknown', label: 'Nobody knows' },
]

const grades = identityGrades.map((grade) => ({
  value: grade,
  label: inCapitals(identityWords[grade]),
  note: identityMeanings[grade],
}))

interface LimbFieldsProps {
  /** Before each name, where a form has several limbs: `limbs.0.` */
  readonly prefix?: string
  readonly varieties: readonly VarietyChoice[]
  readonly inches: boolean
  readonly today: CivilDate
  /** Lists to pull down instead of rows to touch, where a form has several limbs. */
  readonly compact?: boolean
  /** The recorded graft or cutting that the limb came from: its variety and origin are settled then. */
  readonly from?: {
    readonly attemptId: string
    readonly varietyId: string
    readonly origin: 'own' | 'grafted'
  } | null
}

/** What is written about a limb. */
export function LimbFields({
  prefix = '',
  varieties,
  inches,
  today,
  compact = false,
  from = null,
}: LimbFieldsProps) {
  return (
    <>
      <TextField
        name={`${prefix}mark`}
        label="Letter"
        help="What its label says, or would: A for the lowest."
        width="short"
        maxLength={8}
        autoComplete="off"
      />
      {from ? (
        <>
          <Hidden name={`${prefix}fromAttemptId`} value={from.attemptId} />
          <Hidden name={`${prefix}varietyId`} value={from.varietyId} />
          <Hidden name={`${prefix}origin`} value={from.origin} />
        </>
      ) : (
        <>
          <SelectField
            name={`${prefix}varietyId`}
            label="Variety"
            help="Leave it at “nobody knows” rather than guess. Wood without a name is not offered in swaps."
            empty="Nobody knows its name"
            options={varieties.map(({ id, name, commonName }) => ({
              value: id,
              label: name,
              group: commonName,
            }))}
          />
          <Choice
            name={`${prefix}origin`}
            label="Where the limb came from"
            options={origins}
            compact={compact}
          />
        </>
      )}
      <Choice name={`${prefix}identity`} label="How is the name known?" options={grades} compact={compact} />
      <NumberField
        name={inches ? `${prefix}heightInches` : `${prefix}heightCm`}
        label={inches ? 'Height above the ground, inches' : 'Height above the ground, cm'}
        help="Where it leaves the trunk. Labels get lost; height and side find the limb again."
        stepper={false}
        decimal={inches}
      />
      <TextField
        name={`${prefix}side`}
        label="Side"
        help="South-east, over the path, towards the shed."
        maxLength={40}
        autoComplete="off"
      />
      <DateField
        name={`${prefix}seenInLeafOn`}
        label="Last seen in leaf"
        help="Some diseases cannot be seen on bare wood. Leave empty if nobody has looked."
        max={today}
      />
      <TextField
        name={`${prefix}healthNote`}
        label="Health, as seen"
        help="What was seen, and when: “no spots, some aphid, Aug 2026”."
        maxLength={500}
        autoComplete="off"
      />
    </>
  )
}

interface ChoiceProps {
  readonly name: string
  readonly label: string
  readonly options: readonly { readonly value: string; readonly label: string; readonly note?: string }[]
  readonly compact: boolean
}

function Choice({ name, label, options, compact }: ChoiceProps) {
  return compact ? (
    <SelectField name={name} label={label} options={options} />
  ) : (
    <PickGroup name={name} legend={label} options={options} />
  )
}
