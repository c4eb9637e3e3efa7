import { addDays, type CivilDate } from '#lib/kernel/civil-date.ts'
import type { OutcomeCounts } from '#lib/statistics/summarise-outcomes.ts'

/** A look that stands: what was alive, dead and unknown of the attempt's pieces on a day. */
export interface DatedLook {
  readonly on: CivilDate
  readonly alive: number
  readonly dead: number
  readonly unknown: number
}

export interface FollowedAttempt {
  readonly madeOn: CivilDate
  readonly pieces: number
  /** In the order in which they count on the same day. */
  readonly looks: readonly DatedLook[]
}

/** When an outcome can be told, in days from the making: buds push before the union carries them. */
export interface Checkpoint {
  readonly opensAfterDays: number
  readonly closesAfterDays: number
}

const byDay = (a: DatedLook, b: DatedLook) => (a.on < b.on ? -1 : a.on > b.on ? 1 : 0)

/** The look that tells how things stood at the checkpoint: the last one within, or the first one after it. */
function tellingLook({ madeOn, looks }: FollowedAttempt, checkpoint: Checkpoint): DatedLook | null {
  const opens = addDays(madeOn, checkpoint.opensAfterDays)
  const closes = addDays(madeOn, checkpoint.closesAfterDays)
  const settled = looks.filter(({ on }) => on >= opens).sort(byDay)
  const within = settled.filter(({ on }) => on <= closes).at(-1)
  const [first] = settled
  if (within || !first) return within ?? null
  // Several looks on the first day after it: the last of that day.
  return settled.filter(({ on }) => on === first.on).at(-1) ?? first
}

/**
 * What an attempt brings into a checkpoint's rate. Before its window has closed: nothing but pending pieces, whatever
 * has been told already, because takes are told earlier than failures and would flatter the season. After: the look
 * that tells, whatever day it was made; what died later is a later event and changes nothing. Without such a look, what
 * was seen dead before stays dead, and the rest is unknown. Throws RangeError when a look does not add up to the pieces.
 */
export function outcomeAtCheckpoint(
  attempt: FollowedAttempt,
  checkpoint: Checkpoint,
  today: CivilDate,
): OutcomeCounts {
  const { madeOn, pieces, looks } = attempt
  for (const { alive, dead, unknown } of looks) {
    if (alive + dead + unknown !== pieces) throw new RangeError(`A look does not add up to ${pieces} pieces`)
  }
  const none = { pieces, alive: 0, dead: 0, unknown: 0, pending: 0 }
  if (today <= addDays(madeOn, checkpoint.closesAfterDays)) return { ...none, pending: pieces }
  const telling = tellingLook(attempt, checkpoint)
  if (telling) return { ...none, alive: telling.alive, dead: telling.dead, unknown: telling.unknown }
  const dead = [...looks].sort(byDay).at(-1)?.dead ?? 0
  return { ...none, dead, unknown: pieces - dead }
}
