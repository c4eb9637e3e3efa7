import { randomUUID } from 'node:crypto'
import { ActionForm } from '#app/_ui/form/action-form.tsx'
import { Hidden } from '#app/_ui/form/hidden.tsx'
import { OnceKey } from '#app/_ui/form/once-key.tsx'
import { SubmitButton } from '#app/_ui/form/submit-button.tsx'
import { TextField } from '#app/_ui/form/text-field.tsx'
import { counted } from '#app/_ui/measures.ts'
import { withdrawAttemptAction } from '#app/g/[group]/grafts/actions.ts'
import type { AttemptDetail } from '#lib/attempts/view.ts'

interface WithdrawFormProps {
  readonly slug: string
  readonly attempt: AttemptDetail
}

/** Takes a mistaken entry back, with a reason. */
export function WithdrawForm({ slug, attempt }: WithdrawFormProps) {
  return (
    <details>
      <summary>This entry is a mistake</summary>
      <ActionForm action={withdrawAttemptAction} label="Withdraw this entry" className="form read">
        <Hidden name="group" value={slug} />
        <OnceKey value={randomUUID()} />
        <Hidden name="attemptId" value={attempt.id} />
        <p>
          For wrong entries only; grafts that died are no mistake.{' '}
          {attempt.sticksUsed > 0 &&
            `Its ${counted(attempt.sticksUsed, 'stick')} go back to where they were. `}
          The entry stays to be read and counts nowhere.
        </p>
        <TextField name="reason" label="What was wrong" maxLength={400} />
        <SubmitButton kind="stop" pending="Withdrawing the entry">
          Withdraw this entry
        </SubmitButton>
      </ActionForm>
    </details>
  )
}
