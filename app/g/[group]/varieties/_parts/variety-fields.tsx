import { DateField } from '#app/_ui/form/date-field.tsx'
import { NumberField } from '#app/_ui/form/number-field.tsx'
import { PickGroup } from '#app/_ui/form/pick-group.tsx'
import { SelectField } from '#app/_ui/form/select-field.tsx'
import { TextArea } from '#app/_ui/form/text-area.tsx'
import { TextField } from '#app/_ui/form/text-field.tsx'
import type { CivilDate } from '#lib/kernel/civil-date.ts'
import { certaintyWords, protectionWords } from '#lib/varieties/protection.ts'
import type { TaxonChoice } from '#lib/varieties/view.ts'

const certainties = [
  { value: 'settled', label: certaintyWords.settled, note: 'The group agrees, and fruit has been seen.' },
  {
    value: 'likely',
    label: certaintyWords.likely,
    note: 'It came under this name and nothing speaks against it.',
  },
  { value: 'disputed', label: certaintyWords.disputed, note: 'People who know it do not agree.' },
  { value: 'unknown', label: certaintyWords.unknown, note: 'A working name, such as “Smithy plum”.' },
]

const protections = [
  { value: 'none_known', label: protectionWords.none_known, note: 'Old, or looked up and nothing found.' },
  { value: 'unknown', label: protectionWords.unknown, note: 'Kept out of swaps while it may be recent.' },
  { value: 'expired', label: protectionWords.expired, note: 'The selling name may still be owned.' },
  { value: 'in_force', label: protectionWords.in_force },
  { value: 'pending', label: protectionWords.pending },
  { value: 'breeders_right', label: protectionWords.breeders_right },
]

interface VarietyFieldsProps {
  readonly taxa: readonly TaxonChoice[]
  readonly today: CivilDate
}

/** What is written about a variety. */
export function VarietyFields({ taxa, today }: VarietyFieldsProps) {
  return (
    <>
      <SelectField
        name="taxonKey"
        label="Kind of fruit"
        help="It decides how long wood of this sort is expected to keep."
        empty="Choose the kind of fruit"
        options={taxa.map(({ key, commonName, genus, species }) => ({
          value: key,
          label: `${commonName} (${genus} ${species})`,
        }))}
      />
      <TextField
        name="name"
        label="Name"
        help="Without quotes, with its accents: Joséphine de Malines."
        maxLength={100}
        autoComplete="off"
      />
      <PickGroup name="nameCertainty" legend="How sure is the name?" options={certainties} />
      <TextArea
        name="note"
        label="Note"
        help="What a grower of this sort should know."
        rows={3}
        maxLength={2000}
      />
      <PickGroup
        name="protection"
        legend="Patent or breeder’s right"
        help="What you found out. It is a note for the group, no advice on the law: when in doubt ask the holder of the right or your authority."
        options={protections}
      />
      <TextField
        name="protectionNote"
        label="Where you looked"
        help="The register and the number, or who told you."
        maxLength={500}
        autoComplete="off"
      />
      <DateField
        name="protectionCheckedOn"
        label="Last checked"
        help="Leave empty if nobody has looked."
        max={today}
        today={today}
      />
      <NumberField
        name="introducedYear"
        label="Introduced"
        help="The year in which it was first sold or named, if known."
        min={1000}
        max={2100}
        stepper={false}
      />
    </>
  )
}
