import Link from 'next/link'
import { VarietyName } from '#app/_ui/name.tsx'
import { RecordedDay } from '#app/_ui/recorded-day.tsx'
import { Rows } from '#app/_ui/rows.tsx'
import { findMethod } from '#lib/grafting/methods.ts'
import type { CivilDate } from '#lib/kernel/civil-date.ts'
import type { AttemptHint } from '#lib/trees/view.ts'

interface GraftHintsProps {
  readonly hints: readonly AttemptHint[]
  readonly today: CivilDate
  /** Where a hint leads, if it leads anywhere. */
  readonly hrefOf?: (hint: AttemptHint) => string
}

/** Grafts on record as made on a tree. */
export function GraftHints({ hints, today, hrefOf }: GraftHintsProps) {
  return (
    <Rows>
      {hints.map((hint) => (
        <li key={hint.attemptId} className="sec-head">
          <p>
            <VarietyName name={hint.varietyName} />, {findMethod(hint.method)?.name ?? hint.method},{' '}
            {hint.growerName}, <RecordedDay date={hint.madeOn} today={today} />
          </p>
          {hrefOf && (
            <Link className="tap" href={hrefOf(hint)} prefetch={false}>
              This one grew
            </Link>
          )}
        </li>
      ))}
    </Rows>
  )
}
