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
import { skillChoices } from '#app/g/[group]/grafts/_parts/attempt-words.ts'
import { hostOptions } from '#app/g/[group]/grafts/_parts/host-options.ts'
import { KnifeCaution } from '#app/g/[group]/grafts/_parts/knife-caution.tsx'
import { MethodField } from '#app/g/[group]/grafts/_parts/method-field.tsx'
import { WrapField } from '#app/g/[group]/grafts/_parts/wrap-field.tsx'
import { recordAttemptAction } from '#app/g/[group]/grafts/actions.ts'
import type { CivilDate } from '#lib/kernel/civil-date.ts'
import type { LimbChoice, TreeChoice } from '#lib/trees/view.ts'
import type { VarietyChoice } from '#lib/varieties/view.ts'

/** The wood of the form: a lot that was chosen before, or own wood still to be chosen. */
export type WoodOfForm =
  | { readonly source: 'lot'; readonly lotId: string; readonly sticks: number; readonly cutOn: CivilDate }
  | {
      readonly source: 'own'
      readonly limbs: readonly LimbChoice[]
      readonly varieties: readonly VarietyChoice[]
    }

interface AttemptFormProps {
  readonly slug: string
  /** Null for oneself. */
  readonly growerId: string | null
  readonly wood: WoodOfForm
  readonly trees: readonly TreeChoice[]
  /** Limbs of the group's trees, to graft onto. */
  readonly limbs: readonly LimbChoice[]
  readonly today: CivilDate
}

/** What was made: of which wood, how, on what, how many, when. */
export function AttemptForm({ slug, growerId, wood, trees, limbs, today }: AttemptFormProps) {
  return (
    <ActionForm
      action={recordAttemptAction}
      values={{ madeOn: today, skill: 'not_said', hormone: '' }}
      label="What was made"
      className="form read"
    >
      <Hidden name="group" value={slug} />
      <OnceKey value={randomUUID()} />
      <Hidden name="source" value={wood.source} />
      {growerId && <Hidden name="growerId" value={growerId} />}
      {wood.source === 'lot' ? <Hidden name="lotId" value={wood.lotId} /> : <OwnWoodFields {...wood} />}
      <MethodField />
      <DateField
        name="madeOn"
        label="When it was made"
        max={today}
        today={today}
        {...(wood.source === 'lot' ? { min: wood.cutOn } : {})}
      />
      <NumberField
        name="pieces"
        label="How many pieces"
        help="Grafts, buds or cuttings. One stick may make several."
        min={1}
      />
      {wood.source === 'lot' && (
        <NumberField
          name="sticksUsed"
          label="Sticks used"
          help={`${wood.sticks} at hand. Empty: one for each piece, as far as they go.`}
          min={1}
          max={wood.sticks}
        />
      )}
      <OntoFields trees={trees} limbs={limbs} />
      <WrapField />
      <CuttingFields />
      <PickGroup
        name="skill"
        legend="Your hand with this method"
        help="It helps to tell wood from practice. Nobody is ranked."
        options={skillChoices}
      />
      <TextField
        name="treatment"
        label="What set this batch apart"
        help="Such as “bottom heat” or “long, planted at once”. Batches with the same words are counted together."
        maxLength={120}
      />
      <TextArea
        name="note"
        label="Note"
        help="The state of the wood, the weather, what went wrong."
        maxLength={2000}
      />
      <KnifeCaution />
      <div className="acts">
        <SubmitButton pending="Saving the batch">Save the batch</SubmitButton>
        <SubmitButton kind="plain" name="ask" value="first" pending="Looking it up">
          What should I think of first?
        </SubmitButton>
      </div>
    </ActionForm>
  )
}

function OwnWoodFields({ limbs, varieties }: Extract<WoodOfForm, { source: 'own' }>) {
  const named = limbs.filter((limb) => limb.varietyName !== null)
  return (
    <>
      {named.length > 0 && (
        <SelectField
          name="fromLimbId"
          label="The limb it was cut from"
          help="So that what it becomes can be traced."
          empty="None of these"
          options={named.map((limb) => ({
            value: limb.limbId,
            label: `‘${limb.varietyName}’, limb ${limb.mark} of tree ${displayCode(limb.treeCode)}${limb.onHold ? ', on hold' : ''}`,
          }))}
        />
      )}
      <SelectField
        name="varietyId"
        label={named.length > 0 ? 'Or only the variety' : 'The variety'}
        help="For wood that came from outside the group’s trees."
        empty="Choose a variety"
        options={varieties.map(({ id, name, commonName }) => ({ value: id, label: name, group: commonName }))}
      />
    </>
  )
}

interface OntoFieldsProps {
  readonly trees: readonly TreeChoice[]
  readonly limbs: readonly LimbChoice[]
}

function OntoFields({ trees, limbs }: OntoFieldsProps) {
  return (
    <>
      <TextField
        name="stock"
        label="On what stock"
        help="Such as MM106, Quince A, a seedling. Empty for cuttings on their own roots."
        maxLength={120}
      />
      {trees.length > 0 && (
        <SelectField
          name="host"
          label="On which tree or limb of the group"
          help="Only if it was put on one that is on record."
          empty="On none of them"
          options={hostOptions(trees, limbs)}
        />
      )}
    </>
  )
}

/** What cuttings are and how they stand; of no use for grafts, so folded away. */
function CuttingFields() {
  return (
    <details>
      <summary>For cuttings: nodes, warmth, hormone</summary>
      <div className="stack">
        <NumberField name="nodes" label="Nodes of each" min={1} max={100} />
        <NumberField
          name="bottomHeatC"
          label="Warmth from below, °C"
          help="At the base. Empty without heat."
          decimal
        />
        <PickGroup
          name="hormone"
          legend="Rooting hormone"
          inRow
          options={[
            { value: '', label: 'Not said' },
            { value: 'no', label: 'No' },
            { value: 'yes', label: 'Yes' },
          ]}
        />
      </div>
    </details>
  )
}
