import { type CheckpointKey, checkpointsOf } from '#lib/grafting/checkpoints.ts'
import { findMethod, type MethodKey } from '#lib/grafting/methods.ts'
import type { Hemisphere } from '#lib/grafting/season.ts'
import { addDays, type CivilDate, civilDate } from '#lib/kernel/civil-date.ts'

export type LookName = CheckpointKey

/** A look that an attempt asks for. */
export interface Look {
  readonly name: LookName
  readonly on: CivilDate
  readonly state: 'done' | 'due' | 'late' | 'next'
}

/** A look that somebody made, as far as the plan needs it. */
export interface SeenLook {
  readonly on: CivilDate
  /** The look of the plan that it answers; null for one of no particular day. */
  readonly checkpoint: string | null
  /** How the living ones stood: a key of `check-states.ts`. */
  readonly state: string | null
}

/** What has been seen of an attempt. */
export interface Seen {
  readonly method: string
  readonly madeOn: CivilDate
  readonly hemisphere: Hemisphere
  /** All looks that stand. */
  readonly looks: readonly SeenLook[]
  /** Whether anything was alive at the newest of them; true while nobody has looked. */
  readonly isAnyAlive: boolean
}

/** A look up to this many days before its day counts as that look. */
const graceDays = 7
/** A look this many days overdue is called late. */
const lateAfterDays = 14
/** A later look that nobody made is not asked for beyond this; the first one always is. */
const lapsesAfterDays = 180
/** An outcome seen earlier than this may still change: buds push on their reserve before the union carries them. */
export const settledAfterDays = 30
/** Followed by a method that is not in the table any more. */
const plainGraft: MethodKey = 'cleft'

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

/** The day of a look that is asked for every so many years: the first whose time has not lapsed. */
function turnOf(dueOn: CivilDate, everyYears: number, today: CivilDate): CivilDate {
  let on = dueOn
  while (today > addDays(on, lapsesAfterDays)) {
    on = civilDate(`${Number(on.slice(0, 4)) + everyYears}${on.slice(4)}`)
  }
  return on
}

/** Whether the fruit has been seen, after which nobody asks for the first one again. */
const hasFruited = ({ looks }: Seen) =>
  looks.some(({ checkpoint, state }) => checkpoint === 'first-fruit' && state === 'fruited')

/**
 * The looks that an attempt asks for and how they stand: those of `lib/grafting/checkpoints.ts`. A look answers the
 * checkpoint that it names and every one whose day it was not earlier than; any look at all counts as the first.
 * Once nothing is alive, or nothing was ever attempted, no further look is asked for.
 */
export function looksOf(seen: Seen, today: CivilDate): readonly Look[] {
  const method = findMethod(seen.method)?.key ?? plainGraft
  const plan = checkpointsOf(method, seen.madeOn, seen.hemisphere)
  const isOver = seen.looks.length > 0 && !seen.isAnyAlive
  return plan.flatMap(({ key, dueOn, againAfterYears }, i) => {
    const on = againAfterYears === null ? dueOn : turnOf(dueOn, againAfterYears, today)
    const isAnswered = seen.looks.some(
      (look) => look.on >= addDays(on, -graceDays) || (againAfterYears === null && look.checkpoint === key),
    )
    const isDone = i === 0 ? seen.looks.length > 0 : isAnswered || (key === 'first-fruit' && hasFruited(seen))
    const state = stateOf(on, { isDone, isOver, mayLapse: i > 0 }, today)
    return state ? [{ name: key, on, state }] : []
  })
}

/** The first look that is due or late, or else the next one; null when none is asked for any more. */
export function nextLook(looks: readonly Look[]): Look | null {
  const open = looks.filter((look) => look.state !== 'done')
  return open.find((look) => look.state !== 'next') ?? open[0] ?? null
}
