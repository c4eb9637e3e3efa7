import Link from 'next/link'
import { recordedDay } from '#app/_ui/dates.ts'
import { Rows } from '#app/_ui/rows.tsx'
import { AttemptTitle } from '#app/g/[group]/grafts/_parts/attempt-title.tsx'
import { CareUrgency } from '#app/g/[group]/grafts/_parts/care-list.tsx'
import type { CareDue } from '#lib/care/view.ts'
import type { CivilDate } from '#lib/kernel/civil-date.ts'

interface CareWaitingProps {
  readonly slug: string
  readonly due: readonly CareDue[]
  readonly today: CivilDate
}

/** The same task as urgent for several batches is one line. */
function byTask(due: readonly CareDue[]): readonly (readonly [CareDue, ...CareDue[]])[] {
  const lines = new Map<string, [CareDue, ...CareDue[]]>()
  for (const one of due) {
    const key = `${one.care.state} ${one.care.task.title}`
    const line = lines.get(key)
    if (line) line.push(one)
    else lines.set(key, [one])
  }
  return [...lines.values()]
}

/** What waits to be done for grafts and cuttings: a line for each task, with the batches that ask for it. */
export function CareWaiting({ slug, due, today }: CareWaitingProps) {
  return (
    <Rows>
      {byTask(due).map((line) => (
        <li key={`${line[0].care.state} ${line[0].care.task.title}`} className="stack-s">
          <p>
            <CareUrgency view={line[0].care} /> <b>{line[0].care.task.title}</b>
          </p>
          <ul className="note stack-s">
            {line.map(({ batch, care }) => (
              <li key={batch.attemptId}>
                <Link href={`/g/${slug}/grafts/${batch.attemptId}#care-${care.task.id}`} prefetch={false}>
                  <span>
                    <AttemptTitle attempt={batch} />
                  </span>
                </Link>
                , by {recordedDay(care.dueOn, today)}
              </li>
            ))}
          </ul>
        </li>
      ))}
    </Rows>
  )
}
