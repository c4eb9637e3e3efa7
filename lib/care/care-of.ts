import type { CareAnswerView, CareView } from '#lib/care/view.ts'
import {
  type CareState,
  careSchedule,
  careStateOf,
  type WrapKey,
  wraps,
} from '#lib/grafting/care-schedule.ts'
import type { CareTask } from '#lib/grafting/care-tasks.ts'
import { findMethod, type MethodKey } from '#lib/grafting/methods.ts'
import type { Hemisphere } from '#lib/grafting/season.ts'
import { addDays, type CivilDate } from '#lib/kernel/civil-date.ts'

/** What the care of a batch goes by. */
export interface CaredFor {
  readonly method: string
  readonly wrap: string | null
  readonly madeOn: CivilDate
  readonly hemisphere: Hemisphere
  /** True while nobody has looked. */
  readonly isAnyAlive: boolean
}

/** A task that nobody answered is asked for on the lists so long, in days from its due day. */
const askedForDays = 45
/** A tie that may strangle is asked for so long. */
const strongAskedForDays = 365

/** Followed by a method that is not in the table any more. */
const plainGraft: MethodKey = 'cleft'

const wrapOf = (key: string | null): WrapKey => wraps.find((wrap) => wrap.key === key)?.key ?? 'unknown'

const stateOfAnswer = { done: 'done', deferred: 'deferred', not_needed: 'not-needed' } as const

function stateOf(task: CareTask, answer: CareAnswerView | null, today: CivilDate): CareState {
  const said = answer && { state: stateOfAnswer[answer.answer], until: answer.until }
  return careStateOf(task, said, today)
}

/** "rub-shoots" of "rub-shoots-3": tasks of one kind come in turns. */
const kindOf = ({ id }: CareTask): string => id.replace(/-\d+$/, '')
const isInTurns = (task: CareTask): boolean => kindOf(task) !== task.id

/**
 * The care of a batch, by day, with what was said to each task. Empty when nothing is alive. Of tasks that come
 * round again, only the newest that has come is open; nobody makes up for the earlier ones.
 *
 * @param answers the newest answer to each task, by its id
 */
export function careOf(
  batch: CaredFor,
  answers: ReadonlyMap<string, CareAnswerView>,
  today: CivilDate,
): readonly CareView[] {
  const tasks = careSchedule({
    ...batch,
    method: findMethod(batch.method)?.key ?? plainGraft,
    wrap: wrapOf(batch.wrap),
  })
  return tasks.map((task, i) => {
    const answer = answers.get(task.id) ?? null
    const state = stateOf(task, answer, today)
    const isFollowed = tasks
      .slice(i + 1)
      .some((later) => kindOf(later) === kindOf(task) && later.openFrom <= today)
    // The last turn of the season passes like the others.
    const isPassed = (isFollowed && state !== 'settled') || (isInTurns(task) && state === 'overdue')
    return { task, answer, state: isPassed ? 'passed' : state, dueOn: answer?.until ?? task.dueOn }
  })
}

/** Whether a task belongs on the list of what waits now. Old ones that nobody answered do not nag for ever. */
export function isAskedFor({ state, dueOn }: CareView, today: CivilDate): boolean {
  if (state === 'overdue-strong') return today <= addDays(dueOn, strongAskedForDays)
  return (state === 'open' || state === 'overdue') && today <= addDays(dueOn, askedForDays)
}
