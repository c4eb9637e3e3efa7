import { randomUUID } from 'node:crypto'
import { displayCode } from '#app/_ui/code.tsx'
import { ActionForm } from '#app/_ui/form/action-form.tsx'
import { DateField } from '#app/_ui/form/date-field.tsx'
import { Hidden } from '#app/_ui/form/hidden.tsx'
import { NumberField } from '#app/_ui/form/number-field.tsx'
import { OnceKey } from '#app/_ui/form/once-key.tsx'
import { PickGroup } from '#app/_ui/form/pick-group.tsx'
import { SelectField } from '#app/_ui/form/select-field.tsx'
import { SubmitButton } from '#app/_ui/form/submit-button.tsx'
import { TextArea } from '#app/_ui/form/text-area.tsx'
import { TextField } from '#app/_ui/form/text-field.tsx'
import { counted } from '#app/_ui/measures.ts'
import { skillChoices } from '#app/g/[group]/grafts/_parts/attempt-words.ts'
import { hostOptions } from '#app/g/[group]/grafts/_parts/host-options.ts'
import { KnifeCaution } from '#app/g/[group]/grafts/_parts/knife-caution.tsx'
import { MethodField, methodOptions } from '#app/g/[group]/grafts/_parts/method-field.tsx'
import { WrapField } from '#app/g/[group]/grafts/_parts/wrap-field.tsx'
import { recordBatchAction } from '#app/g/[group]/grafts/actions.ts'
import type { ReceivedWood } from '#lib/attempts/view.ts'
import type { CivilDate } from '#lib/kernel/civil-date.ts'
import type { LimbChoice, TreeChoice } from '#lib/trees/view.ts'
import type { VarietyChoice } from '#lib/varieties/view.ts'

interface MorningFormProps {
  readonly slug: string
  /** Null for oneself. */
  readonly growerId: string | null
  readonly rows: number
  readonly received: readonly ReceivedWood[]
  readonly ownLimbs: readonly LimbChoice[]
  readonly varieties: readonly VarietyChoice[]
  readonly trees: readonly TreeChoice[]
  readonly limbs: readonly LimbChoice[]
  readonly today: CivilDate
}

type WoodLists = Pick<MorningFormProps, 'received' | 'ownLimbs' | 'varieties'>

function woodOptions({ received, ownLimbs, varieties }: WoodLists) {
  return [
    ...received
      .filter(({ varietyName }) => varietyName !== null)
      .map((lot) => ({
        value: `lot:${lot.lotId}`,
        label: `‘${lot.varietyName}’, ${displayCode(lot.code)}, ${counted(lot.sticks, 'stick')}${lot.isHeld ? ', on hold' : ''}`,
        group: 'Received',
      })),
    ...ownLimbs
      .filter(({ varietyName }) => varietyName !== null)
      .map((limb) => ({
        value: `limb:${limb.limbId}`,
        label: `‘${limb.varietyName}’, limb ${limb.mark} of ${displayCode(limb.treeCode)}${limb.onHold ? ', on hold' : ''}`,
        group: 'Own trees',
      })),
    ...varieties.map(({ id, name, commonName }) => ({
      value: `variety:${id}`,
      label: `‘${name}’, ${commonName}`,
      group: 'From elsewhere',
    })),
  ]
}

/** A morning's work on one page: what all of it shares, then a row for each wood and place. */
export function MorningForm(props: MorningFormProps) {
  const { slug, growerId, rows, trees, limbs, today } = props
  const wood = woodOptions(props)
  const hosts = hostOptions(trees, limbs)
  return (
    <ActionForm
      action={recordBatchAction}
      values={{ madeOn: today, skill: 'not_said' }}
      label="A morning’s work"
      className="form read"
    >
      <Hidden name="group" value={slug} />
      <OnceKey value={randomUUID()} />
      {growerId && <Hidden name="growerId" value={growerId} />}
      <DateField name="madeOn" label="The day" max={today} today={today} />
      <MethodField />
      <WrapField />
      {Array.from({ length: rows }, (_, i) => i).map((at) => (
        <Row key={at} at={at} wood={wood} hosts={hosts} />
      ))}
      <PickGroup
        name="skill"
        legend="The hand with this method"
        help="It helps to tell wood from practice. Nobody is ranked."
        options={skillChoices}
      />
      <TextArea name="note" label="Note, for all of them" maxLength={2000} />
      <KnifeCaution />
      <SubmitButton pending="Saving the morning" block>
        Save the morning
      </SubmitButton>
    </ActionForm>
  )
}

interface RowProps {
  readonly at: number
  readonly wood: ReturnType<typeof woodOptions>
  readonly hosts: ReturnType<typeof hostOptions>
}

function Row({ at, wood, hosts }: RowProps) {
  const name = (field: string) => `rows.${at}.${field}`
  return (
    <section className="panel quiet stack" aria-labelledby={`row-${at + 1}`}>
      <h2 className="lab" id={`row-${at + 1}`}>
        Row {at + 1}
      </h2>
      <SelectField
        name={name('wood')}
        label="Wood"
        empty={at === 0 ? 'Choose the wood' : 'As above'}
        options={wood}
      />
      <NumberField name={name('pieces')} label="How many" min={1} stepper />
      {hosts.length > 0 && (
        <SelectField
          name={name('host')}
          label="On tree or limb"
          empty="On none of them"
          options={[...hosts]}
        />
      )}
      <details>
        <summary>More of row {at + 1}</summary>
        <div className="stack">
          <SelectField
            name={name('method')}
            label="Done otherwise"
            empty="As said at the top"
            options={methodOptions}
          />
          <TextField name={name('stock')} label="On what stock" maxLength={120} />
          <NumberField
            name={name('sticksUsed')}
            label="Sticks used"
            help="Empty: one for each piece, as far as they go."
            min={1}
          />
          <NumberField name={name('nodes')} label="Nodes of each cutting" min={1} max={100} />
        </div>
      </details>
    </section>
  )
}
