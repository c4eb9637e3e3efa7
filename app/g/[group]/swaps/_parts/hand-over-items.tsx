import { randomUUID } from 'node:crypto'
import type { ReactNode } from 'react'
import { ActionLink } from '#app/_ui/action-link.tsx'
import { displayCode, LotCode } from '#app/_ui/code.tsx'
import { clockTime } from '#app/_ui/dates.ts'
import { ActionForm } from '#app/_ui/form/action-form.tsx'
import type { FormAction } from '#app/_ui/form/form-state.ts'
import { Hidden } from '#app/_ui/form/hidden.tsx'
import { NumberField } from '#app/_ui/form/number-field.tsx'
import { OnceKey } from '#app/_ui/form/once-key.tsx'
import { SubmitButton } from '#app/_ui/form/submit-button.tsx'
import { counted } from '#app/_ui/measures.ts'
import { quoted, VarietyName } from '#app/_ui/name.tsx'
import { StateWord } from '#app/_ui/state-word.tsx'
import { handOverAction, notOnTableAction, undoHandOverAction } from '#app/g/[group]/swaps/actions.ts'
import type { ClaimView } from '#lib/swaps/view.ts'

/** Whose page it is, of which swap. */
export interface AtTheTable {
  readonly slug: string
  readonly swapId: string
  readonly memberId: string
  /** The address of the page itself. */
  readonly here: string
}

interface ClaimFormProps {
  readonly className?: string
  readonly action: FormAction
  readonly label: string
  readonly claim: ClaimView
  readonly place: AtTheTable
  readonly children: ReactNode
}

/** A form about one claim, which comes back to the person's page. */
function ClaimForm({ action, label, claim, place, className = 'stack', children }: ClaimFormProps) {
  return (
    <ActionForm action={action} className={className} label={label}>
      <Hidden name="group" value={place.slug} />
      <Hidden name="swap" value={place.swapId} />
      <Hidden name="member" value={place.memberId} />
      <Hidden name="claimId" value={claim.claimId} />
      <OnceKey value={randomUUID()} />
      {children}
    </ActionForm>
  )
}

interface PromisedItemProps {
  readonly claim: ClaimView
  readonly place: AtTheTable
  readonly isFewerOpen: boolean
  readonly isMissingOpen: boolean
}

/** Sticks that wait for their person: one big button, and what to do when it does not fit. */
export function PromisedItem({ claim, place, isFewerOpen, isMissingOpen }: PromisedItemProps) {
  const anchor = `claim-${claim.claimId}`
  const name = quoted(claim.varietyName)
  const open = (what: 'fewer' | 'missing') => `${place.here}?${what}=${claim.claimId}#${anchor}`
  return (
    <li id={anchor} className="stack">
      <div className="two">
        <div>
          <p>
            <VarietyName name={claim.varietyName} />
          </p>
          <p>
            <LotCode code={claim.code} />
          </p>
          {claim.note !== null && <p className="soft">{claim.note}</p>}
        </div>
        <p className="big">
          {claim.sticks}
          <span className="vh"> {claim.sticks === 1 ? 'stick' : 'sticks'}</span>
        </p>
      </div>
      {claim.isHeld ? (
        <p>
          <StateWord kind="hold">On hold: do not hand it over. Ask the health steward.</StateWord>
        </p>
      ) : (
        <ClaimForm
          action={handOverAction}
          label={`Hand over ${name}, lot ${displayCode(claim.code)}`}
          claim={claim}
          place={place}
        >
          <Hidden name="sticks" value={String(claim.sticks)} />
          <SubmitButton block glove pending="Saving">
            Hand over {claim.sticks}
          </SubmitButton>
        </ClaimForm>
      )}
      {isFewerOpen && <Fewer claim={claim} place={place} />}
      {isMissingOpen && <NotOnTable claim={claim} place={place} />}
      {!isFewerOpen && !isMissingOpen && (
        <p className="less">
          {claim.sticks > 1 && !claim.isHeld && (
            <ActionLink href={open('fewer')}>
              Fewer<span className="vh"> of {name}</span>
            </ActionLink>
          )}
          <ActionLink href={open('missing')}>
            Not on table<span className="vh">: {name}</span>
          </ActionLink>
        </p>
      )}
    </li>
  )
}

interface OfClaim {
  readonly claim: ClaimView
  readonly place: AtTheTable
}

function Fewer({ claim, place }: OfClaim) {
  return (
    <div className="panel">
      <ClaimForm
        action={handOverAction}
        label={`Hand over fewer of ${quoted(claim.varietyName)}, lot ${displayCode(claim.code)}`}
        claim={claim}
        place={place}
      >
        <NumberField
          name="sticks"
          label="Sticks handed over"
          help={`Of ${claim.sticks}. The others go back to their store.`}
          min={1}
          max={claim.sticks}
          defaultValue={claim.sticks - 1}
        />
        <SubmitButton kind="second" block pending="Saving">
          Hand over this many
        </SubmitButton>
      </ClaimForm>
      <ActionLink href={place.here} kind="plain">
        Not now
      </ActionLink>
    </div>
  )
}

function NotOnTable({ claim, place }: OfClaim) {
  return (
    <div className="panel">
      <p>
        The claim is given back with this reason. It cannot be claimed again once claims are closed, so look
        in the other bags first.
      </p>
      <ClaimForm
        action={notOnTableAction}
        label={`${quoted(claim.varietyName)}, lot ${displayCode(claim.code)}, is not on the table`}
        claim={claim}
        place={place}
      >
        <Hidden name="reason" value="not on the table" />
        <SubmitButton kind="stop" block pending="Saving">
          Give {claim.sticks} back
        </SubmitButton>
      </ClaimForm>
      <ActionLink href={place.here} kind="plain">
        Not now
      </ActionLink>
    </div>
  )
}

interface SettledItemProps extends OfClaim {
  readonly timeZone: string
  readonly mayUndo: boolean
}

/** What was handed over, with its undo, or was given back. */
export function SettledItem({ claim, place, timeZone, mayUndo }: SettledItemProps) {
  const at = claim.settledAt === null ? '' : `, ${clockTime(claim.settledAt, timeZone)}`
  return (
    <li className="two done">
      <div>
        <p>
          <VarietyName name={claim.varietyName} />
        </p>
        <p>
          <LotCode code={claim.code} />
        </p>
        <p>
          {claim.status === 'handed_over' ? (
            <>
              <b>Handed over {claim.sticks}</b>
              {at}
            </>
          ) : (
            <>
              Given back {counted(claim.sticks, 'stick')}
              {at}
              {claim.givenBackBecause !== null && `: ${claim.givenBackBecause}`}
            </>
          )}
        </p>
      </div>
      {claim.status === 'handed_over' && mayUndo && (
        <ClaimForm
          action={undoHandOverAction}
          className="[&_button]:min-h-14"
          label={`Undo the hand-over of ${quoted(claim.varietyName)}, lot ${displayCode(claim.code)}`}
          claim={claim}
          place={place}
        >
          <Hidden name="reason" value="undone at the table" />
          <SubmitButton kind="second" pending="Undoing">
            Undo<span className="vh"> {quoted(claim.varietyName)}</span>
          </SubmitButton>
        </ClaimForm>
      )}
    </li>
  )
}
