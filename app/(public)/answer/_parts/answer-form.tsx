import { randomUUID } from 'node:crypto'
import { ActionForm } from '#app/_ui/form/action-form.tsx'
import type { FormValues } from '#app/_ui/form/form-state.ts'
import { Hidden } from '#app/_ui/form/hidden.tsx'
import { NumberField } from '#app/_ui/form/number-field.tsx'
import { OnceKey } from '#app/_ui/form/once-key.tsx'
import { PickGroup } from '#app/_ui/form/pick-group.tsx'
import { SelectField } from '#app/_ui/form/select-field.tsx'
import { SubmitButton } from '#app/_ui/form/submit-button.tsx'
import { TextArea } from '#app/_ui/form/text-area.tsx'
import { TextField } from '#app/_ui/form/text-field.tsx'
import { answerByLinkAction } from '#app/(public)/answer/[token]/actions.ts'
import type { Answer } from '#lib/attempts/answer-input.ts'
import type { AnswerPage } from '#lib/attempts/get-answer.ts'
import { causesOfFailure } from '#lib/attempts/input.ts'

interface AnswerFormProps {
  readonly token: string
  readonly page: AnswerPage
  /** What the link in the mail said, or what stands. */
  readonly say: Answer | null
}

function choicesOf({ pieces, livingWord }: AnswerPage) {
  const living = livingWord === 'rooted' ? 'Rooted' : 'Alive'
  const ends = [
    { value: 'not-attempted', label: 'Never made after all', note: 'Not counted as a failure.' },
    { value: 'cannot-tell', label: 'I cannot tell', note: 'Lost from sight, or the label is gone.' },
  ]
  return pieces === 1
    ? [{ value: 'all', label: living }, { value: 'none', label: 'Dead' }, ...ends]
    : [
        { value: 'all', label: `All ${pieces} ${livingWord}` },
        { value: 'some', label: `Some ${livingWord}`, note: 'Say how many below.' },
        { value: 'none', label: 'All dead' },
        ...ends,
      ]
}

function valuesOf({ standing }: AnswerPage, say: Answer | null): FormValues {
  const isSome = standing?.say === 'some'
  return {
    say: say ?? '',
    alive: isSome ? String(standing.alive) : '',
    dead: isSome ? String(standing.dead) : '',
    state: standing?.state ?? '',
    note: standing?.note ?? '',
  }
}

/** One question, and one button that records the answer. */
export function AnswerForm({ token, page, say }: AnswerFormProps) {
  const { pieces, states, livingWord, standing } = page
  return (
    <ActionForm action={answerByLinkAction} values={valuesOf(page, say)} label="Your answer">
      <Hidden name="token" value={token} />
      <OnceKey value={randomUUID()} />
      <PickGroup name="say" legend="How do they stand?" options={choicesOf(page)} />
      {pieces > 1 && (
        <details open={say === 'some'}>
          <summary>How many, if only some</summary>
          <div className="stack">
            <NumberField
              name="alive"
              label={livingWord === 'rooted' ? 'Rooted' : 'Alive'}
              max={pieces}
              inLine
            />
            <NumberField name="dead" label="Dead" max={pieces} inLine />
            <p className="help">{`Of ${pieces}. One number is enough; with both, the rest counts as not known.`}</p>
          </div>
        </details>
      )}
      <details>
        <summary>Say more, if you like</summary>
        <div className="stack">
          {states.length > 0 && (
            <SelectField
              name="state"
              label="The living ones"
              empty="Not said"
              options={states.map(({ key, label }) => ({ value: key, label }))}
            />
          )}
          <SelectField
            name="cause"
            label="Why the dead ones died"
            help="The likeliest cause. No blame: wood, weather and hand are all in it."
            empty="Not said"
            options={causesOfFailure.map(({ key, label }) => ({ value: key, label }))}
          />
          <TextField name="words" label="The cause in your words" maxLength={200} />
          <TextArea name="note" label="Note" maxLength={2000} />
        </div>
      </details>
      <SubmitButton pending="Recording your answer" block>
        {standing ? 'Record this instead' : 'Record this answer'}
      </SubmitButton>
    </ActionForm>
  )
}
