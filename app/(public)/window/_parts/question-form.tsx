import { DateField } from '#app/_ui/form/date-field.tsx'
import type { FormValues } from '#app/_ui/form/form-state.ts'
import { GetForm } from '#app/_ui/form/get-form.tsx'
import { NumberField } from '#app/_ui/form/number-field.tsx'
import { PickGroup } from '#app/_ui/form/pick-group.tsx'
import { SelectField } from '#app/_ui/form/select-field.tsx'
import { TextArea } from '#app/_ui/form/text-area.tsx'
import { TextField } from '#app/_ui/form/text-field.tsx'
import { askedProfiles, longestHistory } from '#lib/wood/window-question.ts'
import { budStages, packagings } from '#lib/wood/words.ts'

interface QuestionFormProps {
  readonly values: FormValues
  readonly errors: Readonly<Record<string, readonly string[]>>
}

const crops = askedProfiles.map(({ key, name }) => ({
  value: key,
  label: key === 'unknown_decid' ? 'Something else that drops its leaves' : name,
}))

const woods = [
  { value: 'scion_wood', label: 'Scion wood', note: 'dormant, to graft' },
  { value: 'hardwood_cuttings', label: 'Hardwood cuttings', note: 'dormant, to root' },
  { value: 'budwood', label: 'Budwood', note: 'cut in leaf' },
]

/** What the calculator asks. */
export function QuestionForm({ values, errors }: QuestionFormProps) {
  return (
    <div className="read">
      <GetForm action="/window" id="ask" label="The wood" values={values} errors={errors}>
        <SelectField name="crop" label="Crop" empty="Choose a crop" options={crops} />
        <PickGroup name="wood" legend="What it is" options={woods} defaultValue="scion_wood" />
        <DateField name="cut" label="Day of cutting" help="It may lie ahead." />
        <TextField
          name="celsius"
          label="Temperature where it is kept"
          help="In °C, or with an F behind it: 39 F. Left empty, a fridge that nobody has read is assumed."
          width="short"
        />
        <DateField
          name="swap"
          label="Day on which it is wanted"
          help="A swap, or the day of grafting. May be left empty."
        />
        <details open={['buds', 'packing', 'history', 'rate'].some((name) => values[name] || errors[name])}>
          <summary>Buds, packing, written temperatures, and how many to take</summary>
          <div className="form">
            <SelectField
              name="buds"
              label="Buds when cut"
              empty="Not noted: taken to be tight"
              options={budStages.map(({ value, label, note }) => ({
                value: String(value),
                label: note ? `${label}: ${note}` : label,
              }))}
            />
            <SelectField
              name="packing"
              label="Packing"
              empty="Not noted: a sealed bag is assumed"
              options={packagings.map(({ value, label }) => ({ value, label }))}
            />
            <TextArea
              name="history"
              label="Temperatures that were written down"
              help="One to a line: a day, a time if you have it, and a temperature, such as 2027-01-11 14:00, 3.5. Each holds until the next; lines at most six hours apart are followed hour by hour. It goes before the temperature above."
              rows={6}
              maxLength={longestHistory}
            />
            <NumberField
              name="rate"
              label="How many of 100 take with you"
              help="To say how many sticks to take. May be left empty."
              stepper={false}
            />
          </div>
        </details>
        <p>
          <button type="submit" className="btn first">
            How long will it keep?
          </button>
        </p>
      </GetForm>
    </div>
  )
}
