import { DateField } from '#app/_ui/form/date-field.tsx'
import { NumberField } from '#app/_ui/form/number-field.tsx'
import { TextArea } from '#app/_ui/form/text-area.tsx'
import { TextField } from '#app/_ui/form/text-field.tsx'

/** Everything that is planned of a swap. Times are those of the clock on the group's wall. */
export function SwapFields({ timeZone }: { readonly timeZone: string }) {
  const zone = timeZone.split('/').at(-1)?.replaceAll('_', ' ') ?? timeZone
  return (
    <>
      <TextField name="name" label="Name" help="Such as “Winter swap 2027”." maxLength={120} />
      <DateField name="heldOn" label="Day of the swap" />
      <TextField name="place" label="Place" maxLength={200} />
      <fieldset className="stack">
        <legend className="lab">When members can claim</legend>
        <p className="help">
          Claims close some days before, so that there is time to pack. Times are {zone} time.
        </p>
        <DateField name="claimsOpenOn" label="Claims open on" />
        <TextField
          name="claimsOpenTime"
          label="Claims open at"
          type="time"
          width="short"
          help="Such as 08:00."
        />
        <DateField name="claimsCloseOn" label="Claims close on" />
        <TextField
          name="claimsCloseTime"
          label="Claims close at"
          type="time"
          width="short"
          help="Such as 18:00."
        />
      </fieldset>
      <fieldset className="stack">
        <legend className="lab">Limits</legend>
        <p className="help">
          A share is the number of sticks given as one unit; each lot says how many. Groups usually allow one
          or two shares of a variety.
        </p>
        <NumberField name="capPerMember" label="Shares one member may hold" min={1} max={1000} />
        <NumberField name="capPerVariety" label="Of these, shares of one variety" min={1} max={1000} />
      </fieldset>
      <fieldset className="stack">
        <legend className="lab">Waiting list, and sticks nobody fetches</legend>
        <NumberField
          name="waitingHours"
          label="Hours to accept an offer from the waiting list"
          help="After that the shares are offered to the next in line."
          min={1}
          max={336}
        />
        <DateField name="noShowOn" label="Sticks wait for their people until" help="May be left empty." />
        <TextField
          name="noShowTime"
          label="At"
          type="time"
          width="short"
          help="From then on what nobody fetched goes back to its store, or to the waiting list. May be left empty."
        />
      </fieldset>
      <TextArea
        name="note"
        label="Note for members"
        help="What to bring, when the doors open. Shown above the catalogue. May be left empty."
        maxLength={2000}
      />
    </>
  )
}
