import { randomUUID } from 'node:crypto'
import { displayCode } from '#app/_ui/code.tsx'
import { recordedDay } from '#app/_ui/dates.ts'
import { Empty } from '#app/_ui/empty.tsx'
import { ActionForm } from '#app/_ui/form/action-form.tsx'
import { FieldErrors } from '#app/_ui/form/field.tsx'
import { Hidden } from '#app/_ui/form/hidden.tsx'
import { NumberField } from '#app/_ui/form/number-field.tsx'
import { OnceKey } from '#app/_ui/form/once-key.tsx'
import { Tick } from '#app/_ui/form/pick-group.tsx'
import { SubmitButton } from '#app/_ui/form/submit-button.tsx'
import { TextField } from '#app/_ui/form/text-field.tsx'
import { counted } from '#app/_ui/measures.ts'
import { quoted, VarietyName } from '#app/_ui/name.tsx'
import { Section } from '#app/_ui/section.tsx'
import { offerLotsAction } from '#app/g/[group]/swaps/actions.ts'
import type { CivilDate } from '#lib/kernel/civil-date.ts'
import { suggestShares } from '#lib/swaps/share-sizes.ts'
import type { OfferableLot } from '#lib/wood/view.ts'

interface OfferFormProps {
  readonly slug: string
  readonly swapId: string
  readonly lots: readonly OfferableLot[]
  readonly today: CivilDate
  readonly mayOverride: boolean
}

/** The lots that can be offered: tick, and say how many shares of how many sticks. */
export function OfferForm({ slug, swapId, lots, today, mayOverride }: OfferFormProps) {
  if (lots.length === 0) {
    return (
      <Empty title="Nothing to offer">
        Every lot with sticks in a store is offered already, or is on hold, or has no name yet. New lots come
        from cutting sessions.
      </Empty>
    )
  }
  const inOrder = [...lots].sort((a, b) => orderKey(a).localeCompare(orderKey(b), 'en'))
  const crops = [...new Set(inOrder.map((lot) => lot.commonName))]
  return (
    <ActionForm action={offerLotsAction} label="Offer lots">
      <Hidden name="group" value={slug} />
      <Hidden name="swap" value={swapId} />
      <Hidden name="swapId" value={swapId} />
      <OnceKey value={randomUUID()} />
      <FieldErrors name="offers" />
      <p className="read">
        Tick what goes on the table. The numbers are a suggestion: two sticks to a share, so that a second one
        saves a first graft that fails.
      </p>
      {crops.map((crop, i) => (
        <Section key={crop} id={`offer-${i}`} title={crop}>
          <ul className="rows">
            {inOrder.map((lot, at) =>
              lot.commonName === crop ? <OfferRow key={lot.lotId} lot={lot} at={at} today={today} /> : null,
            )}
          </ul>
        </Section>
      ))}
      {mayOverride && (
        <details>
          <summary>Offer a variety that may be protected</summary>
          <div className="read">
            <TextField
              name="overrideReason"
              label="Why it may be offered"
              help="Such as a letter of the holder of the right, and its day. It is kept in the log. Leave it empty otherwise."
              maxLength={500}
            />
          </div>
        </details>
      )}
      <SubmitButton pending="Offering">Offer the ticked lots</SubmitButton>
    </ActionForm>
  )
}

const orderKey = (lot: OfferableLot) => `${lot.commonName} ${lot.varietyName} ${lot.code}`

interface OfferRowProps {
  readonly lot: OfferableLot
  readonly at: number
  readonly today: CivilDate
}

function OfferRow({ lot, at, today }: OfferRowProps) {
  const suggested = suggestShares(lot.inStore)
  const name = `offers.${at}`
  return (
    <li>
      <fieldset className="grid grid-cols-2 items-end gap-x-6 gap-y-3 desk:grid-cols-[minmax(0,1.4fr)_auto_auto_minmax(0,1fr)]">
        <legend className="vh">
          {quoted(lot.varietyName)} {displayCode(lot.code)}
        </legend>
        <div className="col-span-2 desk:col-span-1">
          <Tick
            name={`${name}.lotId`}
            value={lot.lotId}
            label={
              <>
                <VarietyName name={lot.varietyName} /> <span className="code">{displayCode(lot.code)}</span>
              </>
            }
            note={`${counted(lot.inStore, 'stick')} in store, cut ${recordedDay(lot.cutOn, today)}`}
          />
        </div>
        <NumberField
          name={`${name}.sticksPerShare`}
          label="Sticks a share"
          min={1}
          max={100}
          stepper={false}
          defaultValue={suggested?.sticksPerShare}
        />
        <NumberField
          name={`${name}.shares`}
          label="Shares"
          min={1}
          max={5000}
          stepper={false}
          defaultValue={suggested?.shares}
        />
        <div className="col-span-2 desk:col-span-1">
          <TextField name={`${name}.note`} label="Table and bag" maxLength={120} />
        </div>
      </fieldset>
    </li>
  )
}
