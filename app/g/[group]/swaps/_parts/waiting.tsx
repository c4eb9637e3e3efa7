import { randomUUID } from 'node:crypto'
import { displayCode, LotCode } from '#app/_ui/code.tsx'
import { instantWords } from '#app/_ui/dates.ts'
import { ActionForm } from '#app/_ui/form/action-form.tsx'
import { Hidden } from '#app/_ui/form/hidden.tsx'
import { NumberField } from '#app/_ui/form/number-field.tsx'
import { OnceKey } from '#app/_ui/form/once-key.tsx'
import { SelectField } from '#app/_ui/form/select-field.tsx'
import { SubmitButton } from '#app/_ui/form/submit-button.tsx'
import { counted } from '#app/_ui/measures.ts'
import { quoted, VarietyName } from '#app/_ui/name.tsx'
import { Rows } from '#app/_ui/rows.tsx'
import { Section } from '#app/_ui/section.tsx'
import { shareCount } from '#app/g/[group]/swaps/_parts/share-words.ts'
import type { SaidIn } from '#app/g/[group]/swaps/_parts/swap-words.ts'
import {
  acceptOfferAction,
  joinWaitingListAction,
  leaveWaitingListAction,
} from '#app/g/[group]/swaps/actions.ts'
import type { CatalogueRow, SwapView, WaitingView } from '#lib/swaps/view.ts'

interface OfPlace {
  readonly slug: string
  readonly swapId: string
  readonly place: WaitingView
  readonly said: SaidIn
  /** Whose list to come back to, when it is not one's own. */
  readonly memberId?: string | undefined
}

function AnswerForm({
  slug,
  swapId,
  place,
  memberId,
  action,
  word,
}: Omit<OfPlace, 'said'> & AnswerFormProps) {
  return (
    <ActionForm
      action={action}
      className=""
      label={`${word}: ${quoted(place.varietyName)}, lot ${displayCode(place.code)}`}
    >
      <Hidden name="group" value={slug} />
      <Hidden name="swap" value={swapId} />
      {memberId !== undefined && <Hidden name="member" value={memberId} />}
      <Hidden name="waitingId" value={place.waitingId} />
      <OnceKey value={randomUUID()} />
      <SubmitButton
        kind={action === acceptOfferAction ? 'first' : 'second'}
        small
        pending="Sending your answer"
      >
        {word}
      </SubmitButton>
    </ActionForm>
  )
}

interface AnswerFormProps {
  readonly action: typeof acceptOfferAction
  readonly word: string
}

/** A place in the line: what is offered and until when, or how many are before it. */
export function WaitingPlace({ said, ...of }: OfPlace) {
  const { place } = of
  if (place.status === 'expired') return <p className="note">An offer to you was not answered in time.</p>
  if (place.status === 'waiting') {
    return (
      <>
        <p>
          {place.place === 1 ? 'First in line' : `Place ${place.place} in line`}, for up to{' '}
          {shareCount(place.shares, place.sticksPerShare)}.
        </p>
        <AnswerForm {...of} action={leaveWaitingListAction} word="Leave the waiting list" />
      </>
    )
  }
  return (
    <>
      <p>
        <b>{shareCount(place.offeredShares ?? 0, place.sticksPerShare)}</b> kept
        {place.expiresAt && ` until ${instantWords(place.expiresAt, said.timeZone, said.today)}`}. After that
        it goes to the next in line.
      </p>
      <div className="acts">
        <AnswerForm {...of} action={acceptOfferAction} word="Accept" />
        <AnswerForm {...of} action={leaveWaitingListAction} word="Decline" />
      </div>
    </>
  )
}

/** All places of a person in a swap: offers first. */
export function WaitingSection({
  places,
  ...of
}: Omit<OfPlace, 'place'> & { readonly places: readonly WaitingView[] }) {
  if (places.length === 0) return null
  const isOffered = places.some((place) => place.status === 'offered')
  return (
    <Section id="waiting" title={isOffered ? 'Offered from the waiting list' : 'Waiting list'}>
      <Rows>
        {places.map((place) => (
          <li key={place.waitingId}>
            <p>
              <VarietyName name={place.varietyName} />{' '}
              <LotCode code={place.code} href={`/g/${of.slug}/wood/${place.code}`} />
            </p>
            <WaitingPlace {...of} place={place} />
          </li>
        ))}
      </Rows>
    </Section>
  )
}

interface JoinFormProps {
  readonly slug: string
  readonly swap: SwapView
  readonly row: CatalogueRow
  readonly ownId: string
  /** Empty for those who wait for themselves only. */
  readonly others: readonly { readonly id: string; readonly name: string; readonly hasAccount: boolean }[]
}

/** The way into the line for a lot that is all claimed. */
export function JoinWaitingForm({ slug, swap, row, ownId, others }: JoinFormProps) {
  return (
    <ActionForm action={joinWaitingListAction} values={{ shares: '1', memberId: ownId }}>
      <p>
        Every share of this lot is claimed
        {row.waiting > 0 && `, and ${counted(row.waiting, 'person', 'people')} wait for it`}. What is given
        back is offered in the order of asking; you then have {counted(swap.waitingHours, 'hour')} to accept.
      </p>
      <Hidden name="group" value={slug} />
      <Hidden name="swap" value={swap.id} />
      <Hidden name="offeringId" value={row.offeringId} />
      <OnceKey value={randomUUID()} />
      {others.length > 0 && (
        <SelectField
          name="memberId"
          label="For whom"
          options={others.map(({ id, name, hasAccount }) => ({
            value: id,
            label: id === ownId ? `${name} (you)` : hasAccount ? name : `${name}, no account`,
          }))}
        />
      )}
      <NumberField
        name="shares"
        label={
          row.sticksPerShare === 1 ? 'Sticks, at most' : `Shares of ${row.sticksPerShare} sticks, at most`
        }
        min={1}
        max={row.shares}
      />
      <div className="acts">
        <SubmitButton pending="Joining the waiting list">Join the waiting list</SubmitButton>
      </div>
    </ActionForm>
  )
}
