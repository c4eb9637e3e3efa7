import { displayCode, LotCode } from '#app/_ui/code.tsx'
import { ActionForm } from '#app/_ui/form/action-form.tsx'
import { Hidden } from '#app/_ui/form/hidden.tsx'
import { NumberField } from '#app/_ui/form/number-field.tsx'
import { SubmitButton } from '#app/_ui/form/submit-button.tsx'
import { TextField } from '#app/_ui/form/text-field.tsx'
import { counted } from '#app/_ui/measures.ts'
import { quoted, VarietyName } from '#app/_ui/name.tsx'
import { StateWord } from '#app/_ui/state-word.tsx'
import { leftInWords } from '#app/g/[group]/swaps/_parts/share-words.ts'
import { changeOfferingAction, withdrawOfferingAction } from '#app/g/[group]/swaps/actions.ts'
import type { CatalogueRow } from '#lib/swaps/view.ts'

interface OfferedLotsProps {
  readonly slug: string
  readonly swapId: string
  readonly rows: readonly CatalogueRow[]
}

/** What is offered already, with the way to change it or take it away. */
export function OfferedLots({ slug, swapId, rows }: OfferedLotsProps) {
  return (
    <ul className="rows">
      {rows.map((row) => (
        <li key={row.offeringId}>
          <p>
            <VarietyName name={row.varietyName} />{' '}
            <LotCode code={row.code} href={`/g/${slug}/wood/${row.code}`} />{' '}
            {row.isHeld && <StateWord kind="hold" />}
          </p>
          <p className="note">
            {leftInWords(row)}, {counted(row.sticksInStore, 'stick')} in store
            {row.note !== null && `. ${row.note}`}
          </p>
          <ChangeOffer slug={slug} swapId={swapId} row={row} />
        </li>
      ))}
    </ul>
  )
}

interface ChangeOfferProps {
  readonly slug: string
  readonly swapId: string
  readonly row: CatalogueRow
}

function ChangeOffer({ slug, swapId, row }: ChangeOfferProps) {
  const name = `${quoted(row.varietyName)}, lot ${displayCode(row.code)}`
  return (
    <details>
      <summary>
        Change or withdraw<span className="vh"> {name}</span>
      </summary>
      <div className="stack">
        <ActionForm
          action={changeOfferingAction}
          label={`Change the offer of ${name}`}
          values={{ shares: String(row.shares), note: row.note ?? '' }}
        >
          <Hidden name="group" value={slug} />
          <Hidden name="swap" value={swapId} />
          <Hidden name="offeringId" value={row.offeringId} />
          <NumberField
            name="shares"
            label={row.sticksPerShare === 1 ? 'Sticks' : `Shares of ${row.sticksPerShare} sticks`}
            help={
              row.sharesClaimed > 0 ? `${row.sharesClaimed} are claimed: not fewer than that.` : undefined
            }
            min={Math.max(1, row.sharesClaimed)}
            max={5000}
          />
          <TextField name="note" label="Table and bag" maxLength={120} />
          <SubmitButton kind="second" pending="Saving">
            Save
          </SubmitButton>
        </ActionForm>
        <ActionForm action={withdrawOfferingAction} label={`Withdraw ${name}`}>
          <Hidden name="group" value={slug} />
          <Hidden name="swap" value={swapId} />
          <Hidden name="offeringId" value={row.offeringId} />
          <SubmitButton kind="stop" small pending="Withdrawing">
            Withdraw this lot
          </SubmitButton>
        </ActionForm>
      </div>
    </details>
  )
}
