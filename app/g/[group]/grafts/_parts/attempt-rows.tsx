import Link from 'next/link'
import { recordedDay } from '#app/_ui/dates.ts'
import { VarietyName } from '#app/_ui/name.tsx'
import { Rows } from '#app/_ui/rows.tsx'
import { AttemptTitle } from '#app/g/[group]/grafts/_parts/attempt-title.tsx'
import { lookWords, ontoWords, seenWords } from '#app/g/[group]/grafts/_parts/attempt-words.ts'
import { nextLook } from '#lib/attempts/next-look.ts'
import type { AttemptView } from '#lib/attempts/view.ts'
import type { CivilDate } from '#lib/kernel/civil-date.ts'

interface AttemptRowsProps {
  readonly slug: string
  readonly attempts: readonly AttemptView[]
  readonly today: CivilDate
  readonly caption: string
}

function lastSeen(attempt: AttemptView, today: CivilDate): string {
  if (attempt.withdrawn) return 'withdrawn'
  const { standing, method } = attempt
  return standing ? `${seenWords(standing, method)}, ${recordedDay(standing.checkedOn, today)}` : 'not yet'
}

function nextWords(attempt: AttemptView, today: CivilDate): string {
  const look = nextLook(attempt.looks)
  return look ? `${lookWords[look.name].toLowerCase()}, ${recordedDay(look.on, today)}` : 'nothing more'
}

/** Batches with nothing due: a table on a desk, a ruled list on a phone. */
export function AttemptRows(props: AttemptRowsProps) {
  return (
    <>
      <div className="wide-only">
        <AttemptTable {...props} />
      </div>
      <div className="phone-only">
        <Rows>
          {props.attempts.map((attempt) => (
            <li key={attempt.id} className="stack-s">
              <p>
                <Link className="tap" href={`/g/${props.slug}/grafts/${attempt.id}`} prefetch={false}>
                  <span>
                    <AttemptTitle attempt={attempt} />
                  </span>
                </Link>
              </p>
              <p className="note">
                {attempt.method.name}, {recordedDay(attempt.madeOn, props.today)}. Last seen:{' '}
                {lastSeen(attempt, props.today)}. Next: {nextWords(attempt, props.today)}.
              </p>
            </li>
          ))}
        </Rows>
      </div>
    </>
  )
}

function AttemptTable({ slug, attempts, today, caption }: AttemptRowsProps) {
  return (
    <table className="tbl">
      <caption className="vh">{caption}</caption>
      <thead>
        <tr>
          <th scope="col">Batch</th>
          <th scope="col">How</th>
          <th scope="col">Onto</th>
          <th scope="col">Made</th>
          <th scope="col">Last seen</th>
          <th scope="col">Next</th>
        </tr>
      </thead>
      <tbody>
        {attempts.map((attempt) => (
          <tr key={attempt.id}>
            <th scope="row">
              <Link href={`/g/${slug}/grafts/${attempt.id}`} prefetch={false}>
                {attempt.pieces} × <VarietyName name={attempt.varietyName} />
              </Link>
            </th>
            <td>{attempt.method.name}</td>
            <td>{ontoWords(attempt) ?? <span className="soft">not said</span>}</td>
            <td className="nb">{recordedDay(attempt.madeOn, today)}</td>
            <td>{lastSeen(attempt, today)}</td>
            <td>{nextWords(attempt, today)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}
