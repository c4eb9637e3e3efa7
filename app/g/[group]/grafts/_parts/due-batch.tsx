import Link from 'next/link'
import { ActionLink } from '#app/_ui/action-link.tsx'
import { longDay } from '#app/_ui/dates.ts'
import { AttemptTitle } from '#app/g/[group]/grafts/_parts/attempt-title.tsx'
import { lookWords } from '#app/g/[group]/grafts/_parts/attempt-words.ts'
import { LooksLadder } from '#app/g/[group]/grafts/_parts/looks-ladder.tsx'
import type { DueCheck } from '#lib/attempts/queries.ts'
import { type CivilDate, daysBetween } from '#lib/kernel/civil-date.ts'

interface DueBatchProps {
  readonly slug: string
  readonly due: DueCheck
  readonly today: CivilDate
  /** The first of the page has the solid button. */
  readonly isFirst: boolean
}

/** A batch that asks for a look, with where it stands and the way to say what was seen. */
export function DueBatch({ slug, due: { attempt, look }, today, isFirst }: DueBatchProps) {
  const age = attempt.lot && daysBetween(attempt.lot.cutOn, attempt.madeOn)
  const path = `/g/${slug}/grafts/${attempt.id}`
  return (
    <article className="batch">
      <div>
        <h3>
          <AttemptTitle attempt={attempt} />
        </h3>
        <p className="note">
          {attempt.method.name}, {longDay(attempt.madeOn, today)}
          {age !== null && `, ${age} days from cutting`}
          {attempt.treatment && `; ${attempt.treatment}`}
        </p>
        <LooksLadder attempt={attempt} today={today} />
      </div>
      <div className="panel on-sheet stack-s">
        <h4 className="lab">{lookWords[look.name]}: what did you see?</h4>
        <p className="note">
          Dead and never grafted it are useful answers too. A look takes a minute and need not be on the day.
        </p>
        <p className="acts">
          <ActionLink href={`${path}/check`} kind={isFirst ? 'first' : 'second'} small>
            Record a look
          </ActionLink>
          <Link className="tap" href={path} prefetch={false}>
            The whole entry
          </Link>
        </p>
      </div>
    </article>
  )
}
