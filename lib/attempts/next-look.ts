import { findMethod } from '#lib/grafting/methods.ts'
import { addDays, type CivilDate, civilDate } from '#lib/kernel/civil-date.ts'

export type LookName = 'first' | 'ninety-days' | 'second-spring'

/** A look that an attempt asks for. */
export interface Look {
  readonly name: LookName
  readonly on: CivilDate
  readonly state: 'done' | 'due' | 'late' | 'next'
}

/** What has been seen of an attempt, as far as the plan of looks needs it. */
export interface Seen {
  readonly method: string
  readonly madeOn: CivilDate
  /** The days of all looks that stand. */
  readonly lookedOn: readonly CivilDate[]
  /** Whether anything was alive at the newest of them; true while nobody has looked. */
  readonly isAnyAlive: boolean
}

/** A look up to this many days before its day counts as that look. */
const graceDays = 7
/** A look this many days overdue is called late. */
const lateAfterDays = 14
const ninetyDays = 90
/** A later look that nobody made is not asked for beyond this; the first one always is. */
const lapsesAfterDays = 180
/** An outcome seen earlier than this may still change: buds push on their reserve before the union carries them. */
export const settledAfterDays = 30
/** Used for a method that is not in the table any more. */
const firstLookDays = 28

/** 1 May of the next year: by then a graft that lives is in leaf again. Common practice, no source. */
const secondSpring = (madeOn: CivilDate): CivilDate => civilDate(`${Number(madeOn.slice(0, 4)) + 1}-05-01`)

interface Standing {
  readonly isDone: boolean
  /** Nothing is left alive to look at. */
  readonly isOver: boolean
  /** The look can be left out: another one has been made, and its season is over. */
  readonly mayLapse: boolean
}

function stateOf(
  on: CivilDate,
  { isDone, isOver, mayLapse }: Standing,
  today: CivilDate,
): Look['state'] | null {
  if (isDone) return 'done'
  if (isOver || (mayLapse && today > addDays(on, lapsesAfterDays))) return null
  if (today < on) return 'next'
  return today > addDays(on, lateAfterDays) ? 'late' : 'due'
}

/**
 * The looks that an attempt asks for and how they stand: the first, when its method's buds or roots should show,
 * then 90 days, then the second spring. Any look at all counts as the first. Once nothing is alive, no further
 * look is asked for. The later looks are common practice of grafting groups, no source.
 */
export function looksOf(seen: Seen, today: CivilDate): readonly Look[] {
  const plan: readonly { readonly name: LookName; readonly on: CivilDate }[] = [
    {
      name: 'first',
      on: addDays(seen.madeOn, findMethod(seen.method)?.firstLook.afterDays ?? firstLookDays),
    },
    { name: 'ninety-days', on: addDays(seen.madeOn, ninetyDays) },
    { name: 'second-spring', on: secondSpring(seen.madeOn) },
  ]
  const isOver = seen.lookedOn.length > 0 && !seen.isAnyAlive
  return plan.flatMap(({ name, on }) => {
    const isDone =
      name === 'first'
        ? seen.lookedOn.length > 0
        : seen.lookedOn.some((day) => day >= addDays(on, -graceDays))
    const state = stateOf(on, { isDone, isOver, mayLapse: name !== 'first' }, today)
    return state ? [{ name, on, state }] : []
  })
}

/** The first look that is due or late, or else the next one; null when none is asked for any more. */
export function nextLook(looks: readonly Look[]): Look | null {
  const open = looks.filter((look) => look.state !== 'done')
  return open.find((look) => look.state !== 'next') ?? open[0] ?? null
}
