import { DateField } from '#app/_ui/form/date-field.tsx'
import { NumberField } from '#app/_ui/form/number-field.tsx'
import { PickGroup, Tick } from '#app/_ui/form/pick-group.tsx'
import { SelectField } from '#app/_ui/form/select-field.tsx'
import { SubmitButton } from '#app/_ui/form/submit-button.tsx'
import { TextArea } from '#app/_ui/form/text-area.tsx'
import { TextField } from '#app/_ui/form/text-field.tsx'
import { LiveTotal } from '#app/_ui/form/live-total.tsx'
import { civilDate } from '#lib/kernel/civil-date.ts'
const names = ['lots.0.sticks', 'lots.1.sticks']
export function Fields() {
  const today = civilDate('2027-02-04')
  return <>
    <DateField name="on" label="Day cut" help="Storage life is counted from this day." max={today} today={today} />
    <SelectField name="who" label="Cut by" empty="Choose a person" options={[{ value: 'wren', label: 'Wren Halloway' }, { value: 'nell', label: 'Nell (redirects)' }, { value: 'greta', label: 'Greta (refused)', group: 'Others' }]} />
    <PickGroup name="wet" legend="Wood was" inRow options={[{ value: 'dry', label: 'Dry' }, { value: 'wet', label: 'Wet' }, { value: 'frozen', label: 'Frozen' }]} />
    <PickGroup name="wiped" legend="Tools" many options={[{ value: 'a', label: 'Shears', note: 'wiped between trees' }, { value: 'b', label: 'Saw' }]} />
    {[0, 1].map((i) => <fieldset key={i} className="panel stack"><legend className="vh">Lot {i + 1}</legend><h3>Lot {i + 1}</h3>
      <TextField name={`lots.${i}.tree`} label="Tree or limb" help="Tree number." list={['12', '5']} />
      <NumberField name={`lots.${i}.sticks`} label="Sticks" inLine={i === 1} />
    </fieldset>)}
    <LiveTotal names={names} label="Must come to 20" must={20} />
    <NumberField name="celsius" label="Temperature there, °C" decimal help="Leave empty if you have not measured it." />
    <TextField name="code" label="Code" code width="mid" />
    <TextArea name="note" label="Note" />
    <Tick name="sure" label="I am sure" note="It cannot be undone" />
    <p className="acts"><SubmitButton block glove>Save and print labels</SubmitButton></p>
  </>
}
