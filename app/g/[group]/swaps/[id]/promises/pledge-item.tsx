import { LotCode } from '#app/_ui/code.tsx'
import { recordedDay } from '#app/_ui/dates.ts'
import { ActionForm } from '#app/_ui/form/action-form.tsx'
import { DateField } from '#app/_ui/form/date-field.tsx'
import { Hidden } from '#app/_ui/form/hidden.tsx'
import { NumberField } from '#app/_ui/form/number-field.tsx'
import { SubmitButton } from '#app/_ui/form/submit-button.tsx'
import { counted } from '#app/_ui/measures.ts'
import { VarietyName } from '#app/_ui/name.tsx'
import { StateWord } from '#app/_ui/state-word.tsx'
import { answerPledgeAction, settlePledgeAction } from '#app/g/[group]/swaps/[id]/promises/actions.ts'
import type { MemberContext } from '#lib/access/context.ts'
import { can } from '#lib/access/policy.ts'
import type { KeeperHistory, PledgeRow, PledgeState } from '#lib/pledges/view.ts'
import { pledgeStateWords } from '#lib/pledges/words.ts'
import type { SwapView } from '#lib/swaps/view.ts'

interface PledgeItemProps {
  readonly slug: string
  readonly swap: SwapView
  readonly pledge: PledgeRow
  readonly history: KeeperHistory | null
  readonly context: MemberContext
}

const kinds = {
  asked: 'soon',
  promised: 'info',
  declined: 'past',
  delivered: 'good',
  short: 'soon',
  not_come: 'past',
  withdrawn: 'past',
} as const satisfies Record<PledgeState, string>

export function PledgeItem({ slug, swap, pledge, history, context }: PledgeItemProps) {
  const { actor, today } = context
  const { status, variety, keeper, sticksAsked, sticksPromised, bringBy, askedBy, note } = pledge
  const isOpen = status === 'asked' || status === 'promised'
  return (
    <li>
      <p>
        <StateWord kind={kinds[status]}>{pledgeStateWords(status)}</StateWord>{' '}
        <VarietyName name={variety?.name ?? null} />
        {variety && <span className="soft">, {variety.commonName}</span>}
      </p>
      <p className="note">
        {keeper.name}, tree <LotCode code={pledge.treeCode} href={`/g/${slug}/trees/${pledge.treeCode}`} />,
        limb {pledge.mark}.
        {sticksAsked !== null && ` ${counted(sticksAsked, 'stick')} asked for by ${askedBy}.`}
        {sticksPromised !== null && ` ${counted(sticksPromised, 'stick')} promised.`}
        {bringBy !== null && ` By ${recordedDay(bringBy, today)}.`}
        {note !== null && ` ${note}`}
      </p>
      {history && <HistoryLine name={keeper.name} history={history} />}
      {isOpen && pledge.isYours && swap.status !== 'finished' && (
        <Answer slug={slug} swap={swap} pledge={pledge} today={today} />
      )}
      {can(actor, 'offer-any-lot') && <Settle slug={slug} pledge={pledge} />}
    </li>
  )
}

function HistoryLine({ name, history }: { readonly name: string; readonly history: KeeperHistory }) {
  const { delivered, short, notCome } = history
  return (
    <p className="note">
      For you only: {name} has brought what was promised {counted(delivered, 'time')}, fewer{' '}
      {counted(short, 'time')}, and not come {counted(notCome, 'time')}.
    </p>
  )
}

interface AnswerProps {
  readonly slug: string
  readonly swap: SwapView
  readonly pledge: PledgeRow
  readonly today: MemberContext['today']
}

function Answer({ slug, swap, pledge, today }: AnswerProps) {
  const isAsked = pledge.status === 'asked'
  return (
    <details open={isAsked}>
      <summary>{isAsked ? 'Answer' : 'Change the promise'}</summary>
      <ActionForm
        action={answerPledgeAction}
        values={{
          sticks: String(pledge.sticksPromised ?? pledge.sticksAsked ?? 1),
          bringBy: pledge.bringBy ?? swap.heldOn,
        }}
      >
        <Hidden name="group" value={slug} />
        <Hidden name="pledgeId" value={pledge.pledgeId} />
        <NumberField name="sticks" label="Sticks" min={1} max={1000} />
        <DateField name="bringBy" label="Brought by" max={swap.heldOn} today={today} />
        <div className="acts">
          <SubmitButton name="answer" value="promise" pending="Writing it down">
            Promise these
          </SubmitButton>
          <SubmitButton kind="second" name="answer" value="decline" pending="Writing it down">
            Not this year
          </SubmitButton>
        </div>
      </ActionForm>
    </details>
  )
}

function Settle({ slug, pledge }: { readonly slug: string; readonly pledge: PledgeRow }) {
  const outcomes = [
    ...(pledge.sticksPromised === null ? [] : (['delivered', 'short', 'not_come'] as const)),
    'withdrawn' as const,
  ].filter((outcome) => outcome !== pledge.status)
  return (
    <details>
      <summary>What came of it</summary>
      <ActionForm action={settlePledgeAction} className="acts" label="What came of it">
        <Hidden name="group" value={slug} />
        <Hidden name="pledgeId" value={pledge.pledgeId} />
        {outcomes.map((outcome) => (
          <SubmitButton key={outcome} kind="second" small name="outcome" value={outcome} pending="Noting">
            {pledgeStateWords(outcome)}
          </SubmitButton>
        ))}
      </ActionForm>
    </details>
  )
}
