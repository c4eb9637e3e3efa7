import type { CareState } from '#lib/grafting/care-schedule.ts'
import type { CareTask } from '#lib/grafting/care-tasks.ts'
import type { CivilDate } from '#lib/kernel/civil-date.ts'

/** What was said to a task. */
export interface CareAnswerView {
  readonly answer: 'done' | 'deferred' | 'not_needed'
  readonly reason: string | null
  readonly until: CivilDate | null
  readonly on: CivilDate
  readonly by: string
}

/** A task with what was said to it, as it stands on a day. */
export interface CareView {
  readonly task: CareTask
  readonly answer: CareAnswerView | null
  /** `passed`: its turn is over, because the next of its kind has come. */
  readonly state: CareState | 'passed'
  /** The day it is wanted by, moved when it was put off. */
  readonly dueOn: CivilDate
}

/** A batch that asks for care, as lists show it. */
export interface CareBatch {
  readonly attemptId: string
  readonly varietyName: string
  readonly methodName: string
  readonly pieces: number
  readonly stock: string | null
  readonly hostTreeCode: string | null
  readonly madeOn: CivilDate
  readonly care: readonly CareView[]
}

/** One task that waits now. */
export interface CareDue {
  readonly batch: Omit<CareBatch, 'care'>
  readonly care: CareView
}
