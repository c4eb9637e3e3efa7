import { randomUUID } from 'node:crypto'
import { ActionForm } from '#app/_ui/form/action-form.tsx'
import { DateField } from '#app/_ui/form/date-field.tsx'
import { FieldErrors } from '#app/_ui/form/field.tsx'
import type { FormValues } from '#app/_ui/form/form-state.ts'
import { Hidden } from '#app/_ui/form/hidden.tsx'
import { LiveTotal } from '#app/_ui/form/live-total.tsx'
import { NumberField } from '#app/_ui/form/number-field.tsx'
import { OnceKey } from '#app/_ui/form/once-key.tsx'
import { SelectField } from '#app/_ui/form/select-field.tsx'
import { SubmitButton } from '#app/_ui/form/submit-button.tsx'
import { TextArea } from '#app/_ui/form/text-area.tsx'
import { TextField } from '#app/_ui/form/text-field.tsx'
import { livingWord } from '#app/g/[group]/grafts/_parts/attempt-words.ts'
import { PhotoField } from '#app/g/[group]/grafts/_parts/photo-field.tsx'
import { recordCheckAction } from '#app/g/[group]/grafts/actions.ts'
import { statesAt } from '#lib/attempts/check-states.ts'
import { causesOfFailure, ownWordsCause, unknownReasons } from '#lib/attempts/input.ts'
import type { AttemptDetail, CheckView } from '#lib/attempts/view.ts'
import type { CheckpointKey } from '#lib/grafting/checkpoints.ts'
import type { CivilDate } from '#lib/kernel/civil-date.ts'

interface CheckFormProps {
  readonly slug: string
  readonly attempt: AttemptDetail
  readonly today: CivilDate
  /** The look that this one corrects. */
  readonly corrects: CheckView | null
  /** The look of the plan that it answers; null for one of no particular day. */
  readonly checkpoint: CheckpointKey | null
}

const counts = ['alive', 'dead', 'unknown'] as const

function valuesOf(corrects: CheckView | null, today: CivilDate): FormValues {
  if (!corrects) return { checkedOn: today }
  const causes = causesOfFailure.map(({ key }, i) => {
    const named = corrects.causes.find(({ cause }) => cause === key)
    return [
      [`causes.${i}.pieces`, named ? String(named.pieces) : ''],
      [`causes.${i}.words`, named?.cause === ownWordsCause ? named.label : ''],
    ] as const
  })
  return {
    checkedOn: corrects.checkedOn,
    note: corrects.note ?? '',
    state: corrects.state ?? '',
    unknownWhy: corrects.unknownWhy ?? '',
    ...Object.fromEntries(counts.map((count) => [count, String(corrects[count])])),
    ...Object.fromEntries(causes.flat()),
  }
}

/** What was seen on a day: every piece is alive, dead or not known. */
export function CheckForm({ slug, attempt, today, corrects, checkpoint }: CheckFormProps) {
  const living = livingWord(attempt.method)
  const states = statesAt(checkpoint ?? '')
  return (
    <ActionForm
      action={recordCheckAction}
      values={valuesOf(corrects, today)}
      label="What you saw"
      className="form read"
    >
      <Hidden name="group" value={slug} />
      <OnceKey value={randomUUID()} />
      <Hidden name="attemptId" value={attempt.id} />
      {corrects && <Hidden name="supersedesId" value={corrects.id} />}
      {checkpoint && <Hidden name="checkpoint" value={checkpoint} />}
      <DateField name="checkedOn" label="Day of the look" min={attempt.madeOn} max={today} today={today} />
      <div className="stack">
        <p className="help">
          Not known: never used after all, lost from sight, or the label is gone. It is not counted as a
          failure.
        </p>
        <NumberField
          name="alive"
          label={living === 'rooted' ? 'Rooted' : 'Alive'}
          max={attempt.pieces}
          inLine
        />
        <NumberField name="dead" label="Dead" max={attempt.pieces} inLine />
        <NumberField name="unknown" label="Not known" max={attempt.pieces} inLine />
        <LiveTotal names={counts} label={`Must come to ${attempt.pieces}`} must={attempt.pieces} />
      </div>
      {states.length > 0 && (
        <SelectField
          name="state"
          label="The living ones"
          empty="Not said"
          options={states.map(({ key, label }) => ({ value: key, label }))}
        />
      )}
      <SelectField
        name="unknownWhy"
        label="Why some are not known"
        empty="Not said, or none"
        options={unknownReasons.map(({ key, label }) => ({ value: key, label }))}
      />
      <Causes isOpen={(corrects?.causes.length ?? 0) > 0} most={attempt.pieces} />
      <PhotoField />
      <TextArea name="note" label="Note" help="Whatever the numbers do not say." maxLength={2000} />
      <SubmitButton pending="Saving the look">
        {corrects ? 'Save the correction' : 'Save what I saw'}
      </SubmitButton>
    </ActionForm>
  )
}

function Causes({ isOpen, most }: { readonly isOpen: boolean; readonly most: number }) {
  return (
    <>
      <FieldErrors name="causes" />
      <details open={isOpen}>
        <summary>Why did some die?</summary>
        <div className="stack">
          <p className="help">
            The likeliest cause, and for how many. Leave it empty where you cannot tell. No blame: wood,
            weather and hand are all in it.
          </p>
          {causesOfFailure.map(({ key, label, tellsHealthSteward }, i) => (
            <div key={key}>
              <Hidden name={`causes.${i}.cause`} value={key} />
              <NumberField
                name={`causes.${i}.pieces`}
                label={label}
                {...(tellsHealthSteward ? { help: 'The health steward sees this and may ask you.' } : {})}
                max={most}
                inLine
              />
              {key === ownWordsCause && (
                <TextField name={`causes.${i}.words`} label="In your words" maxLength={200} />
              )}
            </div>
          ))}
        </div>
      </details>
    </>
  )
}
