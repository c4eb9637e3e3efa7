import { DateField } from '#app/_ui/form/date-field.tsx'
import { Hidden } from '#app/_ui/form/hidden.tsx'
import { SelectField } from '#app/_ui/form/select-field.tsx'
import { TextArea } from '#app/_ui/form/text-area.tsx'
import { TextField } from '#app/_ui/form/text-field.tsx'
import type { CivilDate } from '#lib/kernel/civil-date.ts'
import type { MemberChoice } from '#lib/people/view.ts'

// Names of stocks in the trade; anything else may be typed.
const stocks = [
  'M27',
  'M9',
  'M26',
  'MM106',
  'MM111',
  'M25',
  'Quince A',
  'Quince C',
  'St Julien A',
  'Pixy',
  'Colt',
  'Gisela 5',
  'Seedling',
  'Own roots',
]

interface TreeFieldsProps {
  readonly keepers: readonly MemberChoice[]
  /** The only possible keeper, for those who record for nobody else. */
  readonly onlyKeeper: string | null
  readonly today: CivilDate
}

/** What is written about a tree itself. */
export function TreeFields({ keepers, onlyKeeper, today }: TreeFieldsProps) {
  return (
    <>
      {onlyKeeper ? (
        <Hidden name="keeperId" value={onlyKeeper} />
      ) : (
        <SelectField
          name="keeperId"
          label="Looked after by"
          help="Somebody without an account can be chosen too."
          empty="Choose a person"
          options={keepers.map(({ id, name }) => ({ value: id, label: name }))}
        />
      )}
      <TextField
        name="place"
        label="Place"
        help="As the group says it: “Marrow Lane, row 2”. Every member reads this, so no street address."
        maxLength={120}
        autoComplete="off"
      />
      <TextField
        name="rootstock"
        label="Rootstock"
        help="Leave empty if nobody knows."
        width="mid"
        maxLength={80}
        list={stocks}
        autoComplete="off"
      />
      <DateField
        name="plantedOn"
        label="Planted"
        help="The first of the month, or of the year, if that is all you know."
        max={today}
      />
      <TextArea
        name="note"
        label="Note"
        help="What somebody with a ladder and shears should know."
        rows={3}
        maxLength={2000}
      />
    </>
  )
}
