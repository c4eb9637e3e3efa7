import { ActionForm } from '#app/_ui/form/action-form.tsx'
import { Hidden } from '#app/_ui/form/hidden.tsx'
import { SubmitButton } from '#app/_ui/form/submit-button.tsx'
import { checkInAction, undoCheckInAction } from '#app/g/[group]/swaps/_parts/day-actions.ts'

interface CheckInFormProps {
  readonly slug: string
  readonly swapId: string
  readonly memberId: string
  readonly name: string
  readonly isThere: boolean
}

/** Ticks that somebody came, or takes it back. */
export function CheckInForm({ slug, swapId, memberId, name, isThere }: CheckInFormProps) {
  return (
    <ActionForm
      action={isThere ? undoCheckInAction : checkInAction}
      className="[&_button]:min-h-14"
      label={isThere ? `${name} is not here` : `${name} is here`}
    >
      <Hidden name="group" value={slug} />
      <Hidden name="swap" value={swapId} />
      <Hidden name="swapId" value={swapId} />
      <Hidden name="memberId" value={memberId} />
      <SubmitButton kind={isThere ? 'plain' : 'second'} pending="Saving">
        {isThere ? 'Not here after all' : 'Is here'}
        <span className="vh">: {name}</span>
      </SubmitButton>
    </ActionForm>
  )
}
