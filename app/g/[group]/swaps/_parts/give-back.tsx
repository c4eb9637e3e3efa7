import { randomUUID } from 'node:crypto'
import { displayCode } from '#app/_ui/code.tsx'
import { ActionForm } from '#app/_ui/form/action-form.tsx'
import { Hidden } from '#app/_ui/form/hidden.tsx'
import { OnceKey } from '#app/_ui/form/once-key.tsx'
import { SubmitButton } from '#app/_ui/form/submit-button.tsx'
import { quoted } from '#app/_ui/name.tsx'
import { giveBackAction } from '#app/g/[group]/swaps/actions.ts'

interface GiveBackProps {
  readonly slug: string
  readonly swapId: string
  readonly claimId: string
  readonly varietyName: string | null
  /** The lot's code: two lots may be of one variety. */
  readonly code: string
  /** Whose list to come back to, when it is not one's own. */
  readonly memberId?: string | undefined
}

/** The button that gives a claim back. */
export function GiveBack({ slug, swapId, claimId, varietyName, code, memberId }: GiveBackProps) {
  return (
    <ActionForm
      action={giveBackAction}
      className=""
      label={`Give back ${quoted(varietyName)}, lot ${displayCode(code)}`}
    >
      <Hidden name="group" value={slug} />
      <Hidden name="swap" value={swapId} />
      {memberId !== undefined && <Hidden name="member" value={memberId} />}
      <Hidden name="claimId" value={claimId} />
      <OnceKey value={randomUUID()} />
      <SubmitButton kind="second" small pending="Giving it back">
        Give it back
      </SubmitButton>
    </ActionForm>
  )
}
