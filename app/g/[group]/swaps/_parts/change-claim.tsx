import { randomUUID } from 'node:crypto'
import { displayCode } from '#app/_ui/code.tsx'
import { ActionForm } from '#app/_ui/form/action-form.tsx'
import { Hidden } from '#app/_ui/form/hidden.tsx'
import { NumberField } from '#app/_ui/form/number-field.tsx'
import { OnceKey } from '#app/_ui/form/once-key.tsx'
import { SubmitButton } from '#app/_ui/form/submit-button.tsx'
import { quoted } from '#app/_ui/name.tsx'
import { changeClaimAction } from '#app/g/[group]/swaps/actions.ts'

interface ChangeClaimProps {
  readonly slug: string
  readonly swapId: string
  readonly claim: {
    readonly claimId: string
    readonly shares: number
    readonly code: string
    readonly varietyName: string | null
  }
  readonly memberId?: string | undefined
}

/** Another number of shares for a claim that stands, without giving it up in between. */
export function ChangeClaim({ slug, swapId, claim, memberId }: ChangeClaimProps) {
  return (
    <ActionForm
      action={changeClaimAction}
      className="flex flex-wrap items-end gap-3"
      label={`Change the claim of ${quoted(claim.varietyName)}, lot ${displayCode(claim.code)}`}
      values={{ shares: String(claim.shares) }}
    >
      <Hidden name="group" value={slug} />
      <Hidden name="swap" value={swapId} />
      {memberId !== undefined && <Hidden name="member" value={memberId} />}
      <Hidden name="claimId" value={claim.claimId} />
      <OnceKey value={randomUUID()} />
      <NumberField name="shares" label="Shares" min={1} max={1000} />
      <SubmitButton kind="second" small pending="Changing it">
        Change the number
      </SubmitButton>
    </ActionForm>
  )
}
