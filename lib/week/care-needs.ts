import type { Actor } from '#lib/access/actor.ts'
import { careDue } from '#lib/care/queries.ts'
import type { CareDue } from '#lib/care/view.ts'
import type { Database } from '#lib/platform/database/database.ts'
import type { Need } from '#lib/week/need.ts'

/** Kinds of task shown one by one; the others wait on the page of the grafts. */
const tasksShown = 3

const isStrong = ({ care }: CareDue): boolean => care.state === 'overdue-strong'

/** "Release the tie" of tape and of string are two lines: one of them may kill. */
const lineOf = (due: CareDue): string => `${isStrong(due)} ${due.care.task.title}`

/** The care of one's grafts and cuttings that waits: a line for each task, whatever the number of batches. */
export async function careNeeds(db: Database, actor: Actor): Promise<readonly Need[]> {
  const lines = new Map<string, CareDue[]>()
  for (const due of await careDue(db, actor)) {
    lines.set(lineOf(due), [...(lines.get(lineOf(due)) ?? []), due])
  }
  return [...lines.values()].slice(0, tasksShown).flatMap((dues): Need[] => {
    const [first] = dues
    if (!first) return []
    return [
      {
        kind: 'care',
        title: first.care.task.title,
        isStrong: isStrong(first),
        batches: dues.map(({ batch }) => batch),
        by: first.care.dueOn,
        isLate: dues.some(({ care }) => care.state !== 'open'),
      },
    ]
  })
}
