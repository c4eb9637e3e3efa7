import { DateField } from '#app/_ui/form/date-field.tsx'
import { NumberField } from '#app/_ui/form/number-field.tsx'
import { PickGroup } from '#app/_ui/form/pick-group.tsx'
import { SelectField } from '#app/_ui/form/select-field.tsx'
import { TextArea } from '#app/_ui/form/text-area.tsx'
import { TextField } from '#app/_ui/form/text-field.tsx'
import { counted } from '#app/_ui/measures.ts'
import { type FieldChoice, pickOptions } from '#app/g/[group]/wood/_parts/choices.ts'
import type { CivilDate } from '#lib/kernel/civil-date.ts'
import { conditions, decisions, mouldPlaces, nickTests, shrivels } from '#lib/wood/inspection-words.ts'
import { budStages } from '#lib/wood/words.ts'

interface LookFieldsProps {
  readonly today: CivilDate
  readonly cutOn: CivilDate
  /** Free sticks, which can be destroyed. */
  readonly free: number
  readonly promised: number
  readonly mayHold: boolean
  readonly isHeld: boolean
  /** Whoever may be named as the one who looked; empty for those who speak for themselves only. */
  readonly inspectors: readonly FieldChoice[]
}

const buds = [{ value: '', label: 'Not looked at' }, ...pickOptions(budStages)]

/** The questions of a look, in the order in which a bag is opened: buds and bark, mould, the knife, what becomes of it. */
export function LookFields(props: LookFieldsProps) {
  const { today, cutOn, free, promised, mayHold, isHeld, inspectors } = props
  const possible = decisions.filter(
    ({ value }) =>
      value === 'keep' || (value === 'hold' && mayHold && !isHeld) || (value === 'reject' && free > 0),
  )
  return (
    <>
      <PickGroup name="condition" legend="On the whole, the wood is" options={pickOptions(conditions)} />
      <PickGroup
        name="budStage"
        legend="The most forward buds are"
        help="Moving buds shorten its window from the day of the look on."
        options={buds}
      />
      <PickGroup name="mould" legend="Mould" options={pickOptions(mouldPlaces)} />
      <PickGroup name="shrivel" legend="Is the bark shrivelled?" options={pickOptions(shrivels)} inRow />
      <PickGroup name="nick" legend="Under a nick in the bark it is" options={pickOptions(nickTests)} inRow />
      <TextArea name="note" label="Anything else" rows={2} maxLength={1000} />
      <PickGroup
        name="decision"
        legend="What happens to it"
        options={pickOptions(possible)}
        help={decisionHelp(props)}
      />
      {possible.length > 1 && (
        <TextField name="reason" label="Why, if it is held or destroyed" maxLength={300} />
      )}
      {free > 0 && (
        <NumberField
          name="sticks"
          label="How many are destroyed"
          help={`Leave empty for all ${counted(free, 'free stick')}${promised > 0 ? `. ${promised} more are claimed and stay.` : '.'}`}
          min={1}
          max={free}
        />
      )}
      <DateField name="onDay" label="Looked at on" min={cutOn} max={today} today={today} />
      {inspectors.length > 0 && <SelectField name="inspectorId" label="By" options={inspectors} />}
    </>
  )
}

function decisionHelp({ isHeld, mayHold }: LookFieldsProps): string | undefined {
  if (isHeld) return 'It is on hold already, and stays so.'
  return mayHold
    ? undefined
    : 'If it looks diseased, keep it apart and tell the health steward, who can put it on hold.'
}
